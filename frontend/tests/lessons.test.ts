import { expect, test } from "vitest";
import { asBefore, blockOf, withClaim, withRow, written, type Filled } from "../src/lessons/claims";

const NOTHING: Filled = {
  squares: [],
  moves: [],
  passes: false,
  worth: "",
  way: "",
  mechanism: "pin",
  fen: "",
  move: "",
};

test.each([
  ["unsafe", { squares: ["e5", "c6"] }, "unsafe: e5, c6"],
  ["unsafe", {}, ""],
  ["mechanism", { squares: ["e6"] }, "mechanism: e6 pin"],
  ["holds", { moves: ["Be7", "Nf6"] }, "holds: Be7, Nf6"],
  ["better ways", { moves: ["Be7", "Nf6"] }, "better ways: Be7, Nf6"],
  ["better ways", { moves: ["Be7", "Nf6"], way: "block" }, "better ways: Be7 (block), Nf6 (block)"],
  ["only", { moves: ["Be7", "Nf6"] }, ""],
  ["falls", { moves: ["Qxg5", "Nxg5"] }, "falls: Qxg5 because Nxg5"],
  ["falls", { moves: ["Qxg5"] }, "falls: Qxg5"],
  ["danger", { worth: " 3,5 " }, "danger: 3.5"],
  ["line", { moves: ["Bxh7+"], passes: true, worth: "7" }, "line: pass Bxh7+ wins 7"],
  ["line", { moves: ["Rd8"], worth: "mate" }, "line: Rd8 mate"],
  ["twin", { fen: "8/8 w - -", move: "Be7" }, "twin: 8/8 w - - better Be7"],
] as const)("%s with %j is written %j", (kind, filled, claim) => {
  expect(written(kind, { ...NOTHING, ...filled })).toBe(claim);
});

const BLOCK = "```position\r\n8/8\r\n# mine\r\nunsafe: e6\r\n```\r\n";

test("a row is changed or taken out, and the rest stays byte by byte", () => {
  expect(withRow(BLOCK, 4, "safe: e6")).toBe(BLOCK.replace("unsafe", "safe"));
  expect(withRow(BLOCK, 4, " ")).toBe(BLOCK.replace("unsafe: e6\r\n", ""));
});

test("a claim goes before the fence, with the block's ends of lines", () => {
  expect(withClaim(BLOCK, "holds: Be7")).toBe(BLOCK.replace("e6\r\n", "e6\r\nholds: Be7\r\n"));
  expect(withClaim("```position\n8/8\n```", "a")).toBe("```position\n8/8\na\n```");
});

test("what a text area gives back has the ends of lines it had", () => {
  expect(asBefore("a\r\nb", "a\nc\n")).toBe("a\r\nc\r\n");
  expect(asBefore("a\nb", "a\nc\n")).toBe("a\nc\n");
});

test("a new block begins with a FEN or with moves", () => {
  expect(blockOf(" 8/8/8/8/8/8/8/8 w - - ")).toContain("position\n8/8/8/8/8/8/8/8 w - -\n```");
  expect(blockOf("1.e4  e5")).toContain("position\nmoves: 1.e4 e5\n```");
});
