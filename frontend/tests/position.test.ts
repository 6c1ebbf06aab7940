import { expect, test } from "vitest";
import { EMPTY_FEN, follow, readFen, START_FEN, unitOf, writeFen } from "../src/board/position";

test.each([
  START_FEN,
  EMPTY_FEN,
  "r1bq1rk1/ppp2ppp/8/4n3/4NP2/4B3/PPP3PP/R2Q1RK1 b - - 0 12",
  "r3k2r/8/8/3pP3/8/8/8/R3K2R w Kq d6 3 40",
])("a FEN that is read and written is the same: %s", (fen) => {
  expect(writeFen(readFen(fen))).toBe(fen);
});

test("a FEN without its end is as at the start of a game", () => {
  expect(writeFen(readFen("8/8/8/4k3/8/4K3/8/8 b"))).toBe("8/8/8/4k3/8/4K3/8/8 b - - 0 1");
});

test("letters stand for units, and others are refused", () => {
  expect(unitOf("N")).toEqual({ unit: "knight", side: "white" });
  expect(() => unitOf("x")).toThrow(RangeError);
});

function ids(fen: string, before: ReturnType<typeof follow> = []) {
  const placed = follow(before, fen);
  return { placed, at: new Map(placed.map((one) => [one.square, one.id])) };
}

test("a unit that moves stays itself, and so do those that stand", () => {
  const before = ids("4k3/8/8/8/8/8/4P3/4K3 w - - 0 1");
  const after = ids("4k3/8/8/8/4P3/8/8/4K3 b - - 0 1", before.placed);
  expect(after.at.get("e4")).toBe(before.at.get("e2"));
  expect(after.at.get("e1")).toBe(before.at.get("e1"));
});

test("castling moves both units", () => {
  const before = ids("4k3/8/8/8/8/8/8/4K2R w K - 0 1");
  const after = ids("4k3/8/8/8/8/8/8/5RK1 b - - 1 1", before.placed);
  expect(after.at.get("g1")).toBe(before.at.get("e1"));
  expect(after.at.get("f1")).toBe(before.at.get("h1"));
});

test("what is taken goes, and what a pawn becomes is new", () => {
  const before = ids("3r3k/2P5/8/8/8/8/8/K7 w - - 0 1");
  const after = ids("3Q3k/8/8/8/8/8/8/K7 b - - 0 1", before.placed);
  expect(after.placed).toHaveLength(3);
  expect([...before.at.values()]).not.toContain(after.at.get("d8"));
});
