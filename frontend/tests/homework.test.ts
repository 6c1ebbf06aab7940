// The script of the homework's page, held to the program by a table that the program wrote.
import { createHash, randomBytes } from "node:crypto";
import { describe, expect, test } from "vitest";
import { asOneNumber, meant, readNumber, ways } from "../../src/fastness/publish/homework/answers.js";
import { squareBeside, squaresAsSeen, unitsOf } from "../../src/fastness/publish/homework/board.js";
import {
  ALPHABET,
  asLetters,
  asNumber,
  readWord,
  writeCode,
} from "../../src/fastness/publish/homework/letters.js";
import { sha256, unseal, utf8 } from "../../src/fastness/publish/homework/sealed.js";
import written from "../../tests/data/homework-codes.json";

interface Table {
  salt: string;
  place: number;
  sealed: Record<string, string>;
  codes: {
    homework: number;
    word: string;
    exercises: { choices: string[]; several: boolean; nothing: boolean }[];
    answers: (string[] | null)[];
    number: string;
    code: string;
  }[];
}
const table: Table = written;

function hex(bytes: Uint8Array): string {
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

describe("SHA-256", () => {
  // FIPS 180-4's examples by NIST: one block, two blocks; the empty message and a million letters
  // from memory, and held against Node's own hash.
  test.each([
    ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
    [
      "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
      "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ],
    ["", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"],
    ["a".repeat(1_000_000), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"],
  ])("of a test vector", (text, expected) => {
    expect(hex(sha256(utf8(text)))).toBe(expected);
  });

  test("of every length up to three blocks", () => {
    for (let length = 0; length < 200; length += 1) {
      const bytes = new Uint8Array(randomBytes(length));
      expect(hex(sha256(bytes))).toBe(createHash("sha256").update(bytes).digest("hex"));
    }
  });
});

describe("the code", () => {
  test.each(table.codes)("$code is the program's", (row) => {
    const number = asOneNumber(row.exercises, row.answers);
    expect(number).toBe(BigInt(row.number));
    expect(readNumber(row.exercises, number)).toEqual(row.answers);
    const word = readWord(row.word);
    expect(word && writeCode(row.homework, word, number)).toBe(row.code);
    expect(asNumber(asLetters(number))).toBe(number);
  });

  test("a word is read in small letters and without its hyphen", () => {
    const [row] = table.codes;
    expect(readWord(` ${row!.word.toLowerCase().replace("-", " ")} `)).toEqual(readWord(row!.word));
  });

  test("no word with one letter wrong, or two neighbours changed round, is a word", () => {
    for (const { word } of table.codes) {
      const letters = word.replace("-", "");
      for (let at = 0; at < letters.length; at += 1) {
        for (const letter of ALPHABET) {
          const typed = letters.slice(0, at) + letter + letters.slice(at + 1);
          if (typed !== letters) expect(readWord(typed)).toBeUndefined();
        }
        const swapped =
          letters.slice(0, at) + (letters[at + 1] ?? "") + letters[at] + letters.slice(at + 2);
        if (swapped !== letters) expect(readWord(swapped)).toBeUndefined();
      }
    }
    expect(readWord("")).toBeUndefined();
    expect(readWord("0O1I")).toBeUndefined();
  });

  test("a number that no answers make is none", () => {
    const one = { choices: ["a2", "a3"], several: true, nothing: false };
    expect(readNumber([one], 1n)).toBeUndefined();
    expect(readNumber([one], 10_000n)).toBeUndefined();
    expect(ways(35, 8)).toBe(23_535_820n);
    expect(ways(3, 4)).toBe(0n);
  });
});

describe("a sealed explanation", () => {
  test("opens with its answer alone", () => {
    const { salt, place, sealed } = table;
    expect(unseal(sealed["e7e8q"]!, salt, place, "e7e8q")).toBe("wBut Kxe8.");
    expect(unseal(sealed["none"]!, salt, place, "none")).toBe("nGanz schön sicher.");
    expect(unseal(sealed["none"]!, salt, place, "e7e8q")).not.toContain("sicher");
    expect(unseal(sealed["none"]!, salt, 4, "none")).not.toContain("sicher");
    expect(sealed["e7e8q"]!.length).toBe(sealed["none"]!.length);
  });
});

describe("a move as it is typed", () => {
  const choices = [
    { answer: "b5c4", names: ["bxc4"] },
    { answer: "e2c4", names: ["Lxc4", "Bxc4"] },
    { answer: "g1f3", names: ["Sf3", "Nf3"] },
    { answer: "e1g1", names: ["O-O"] },
    { answer: "e7e8q", names: ["e8=D+", "e8=Q+"] },
    { answer: "e7e8n", names: ["e8=S", "e8=N"] },
  ];
  test.each([
    ["Sf3", ["g1f3"]],
    ["nf3", ["g1f3"]],
    ["g1-f3", ["g1f3"]],
    ["3...Nf3!", ["g1f3"]],
    ["Bxc4", ["e2c4"]],
    ["bxc4", ["b5c4"]],
    ["Bc4", ["e2c4"]],
    ["BXC4", ["b5c4", "e2c4"]],
    ["0-0", ["e1g1"]],
    ["e8=Q", ["e7e8q"]],
    ["e8D", ["e7e8q"]],
    ["e8", []],
    ["", []],
    ["Kh9", []],
  ])("%s", (typed, expected) => {
    expect(meant(choices, typed)).toEqual(expected);
  });
});

describe("the board", () => {
  test("units, squares and the ways between them", () => {
    const units = unitsOf("4k3/8/8/8/8/8/1P6/K6r b - - 0 1");
    expect([...units]).toEqual([
      ["e8", "k"],
      ["b2", "P"],
      ["a1", "K"],
      ["h1", "r"],
    ]);
    expect(squaresAsSeen(false)[0]).toBe("a8");
    expect(squaresAsSeen(true)[0]).toBe("h1");
    expect(squareBeside("e4", "ArrowUp", false)).toBe("e5");
    expect(squareBeside("e4", "ArrowUp", true)).toBe("e3");
    expect(squareBeside("h4", "ArrowRight", false)).toBe("h4");
    expect(squareBeside("e4", "Enter", false)).toBeUndefined();
  });
});
