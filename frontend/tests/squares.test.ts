import { expect, test } from "vitest";
import { cornersAround, lineBetween, marksOf, numeralsOf } from "../src/board/marks";
import { typedMove, targetsFrom } from "../src/board/moves";
import { cornerOf, squareAt, squareBeside, squaresAsRead } from "../src/board/squares";

test("a board is read from its top left, turned or not", () => {
  expect(squaresAsRead(false)[0]?.[0]).toBe("a8");
  expect(squaresAsRead(true)[0]?.[0]).toBe("h1");
  expect(squareAt(4, 6, false)).toBe("e2");
  expect(squareAt(4, 6, true)).toBe("d7");
  expect(squareAt(8, 0, false)).toBeUndefined();
});

test("arrow keys lead where they point, and not off the board", () => {
  expect(squareBeside("e4", "ArrowUp", false)).toBe("e5");
  expect(squareBeside("e4", "ArrowUp", true)).toBe("e3");
  expect(squareBeside("a1", "ArrowLeft", false)).toBe("a1");
  expect(squareBeside("d4", "Home", false)).toBe("a4");
  expect(squareBeside("d4", "End", true)).toBe("a4");
});

test("squares are drawn where print draws them", () => {
  expect(cornerOf("a8", false)).toEqual([34, 10]);
  expect(cornerOf("a8", true)).toEqual([34 + 7 * 60, 10 + 7 * 60]);
});

test("a line ends at the ring of what it leads to", () => {
  expect(lineBetween("a1", "a8", false)).toBe("M64 460L64.0 67.0");
});

test("corners are four", () => {
  expect(cornersAround([100, 100]).match(/M/g)).toHaveLength(4);
});

test("marks are of what is ringed; a king has no guards", () => {
  const units = [
    { square: "e5", unit: "knight", attackers: ["f4"], guards: ["d6"] },
    { square: "g8", unit: "king", attackers: ["h7"], guards: ["f7"] },
    { square: "a7", unit: "pawn", attackers: ["e3"], guards: [] },
  ];
  expect(marksOf(["e5", "g8"], ["c4"], units)).toEqual({
    ringed: ["e5", "g8"],
    cornered: ["c4"],
    attacks: [
      ["f4", "e5"],
      ["h7", "g8"],
    ],
    guards: [["d6", "e5"]],
  });
});

test("moves are numbered where they end, and a pass is none", () => {
  const numerals = numeralsOf(["0000", "d1d8", "f8d8", "f4e5"], 3);
  expect([...numerals]).toEqual([["d8", "1 2"]]);
});

const MOVES = [
  { uci: "g1f3", name: "Nf3", spoken: "" },
  { uci: "e1g1", name: "O-O", spoken: "" },
  { uci: "d1d8", name: "Qxd8+", spoken: "" },
  { uci: "b2c3", name: "bxc3", spoken: "" },
  { uci: "b5c3", name: "Bxc3", spoken: "" },
  { uci: "e7e8q", name: "e8=Q", spoken: "" },
  { uci: "e7e8n", name: "e8=N", spoken: "" },
];

test.each([
  ["Nf3", "g1f3"],
  ["nf3", "g1f3"],
  ["g1-f3", "g1f3"],
  ["12...Nf3", "g1f3"],
  ["0-0", "e1g1"],
  ["o-o", "e1g1"],
  ["Qd8", "d1d8"],
  ["Qxd8+!", "d1d8"],
  ["bxc3", "b2c3"],
  ["Bc3", "b5c3"],
  ["e8=Q", "e7e8q"],
  ["e8N", "e7e8n"],
])("%s is understood as %s", (text, uci) => {
  expect(typedMove(MOVES, text)?.uci).toBe(uci);
});

test.each(["", "Ke2", "e8", "BC3"])("%s is not understood", (text) => {
  expect(typedMove(MOVES, text)).toBeUndefined();
});

test("a promotion has several moves to one square", () => {
  expect(targetsFrom(MOVES, "e7").get("e8")).toHaveLength(2);
  expect(targetsFrom(MOVES, "a1").size).toBe(0);
});
