import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import shapes from "../src/board/shapes.json";
import { pageAt } from "../src/parts/pages";
import { address } from "../src/parts/route.svelte";
import { readGiven } from "../src/position/given";
import { headline } from "../src/position/ways";

test("the page has the colours of print", () => {
  const css = readFileSync("src/style/page.css", "utf8");
  expect(css).toContain(`--ink: light-dark(${shapes.colours.INK},`);
  expect(css).toContain(`--paper: light-dark(${shapes.colours.PAPER},`);
  expect(css).toContain(`--brick: light-dark(${shapes.colours.BRICK},`);
});

test("paths lead to pages, with what is in them", () => {
  expect(pageAt("/games/12")?.values).toEqual({ number: "12" });
  expect(pageAt("/games/list")?.values).toEqual({});
  expect(pageAt("/")?.values).toEqual({});
  expect(pageAt("/nowhere")).toBeUndefined();
  expect(pageAt("/games/")?.values).toEqual({});
});

test("an address leaves out what is empty", () => {
  expect(address("/games", { student: "", group: undefined })).toBe("/games");
  expect(address("/position", { fen: "8/8 w" })).toBe("/position?fen=8%2F8+w");
});

test.each([
  ["  ", "nothing"],
  ["8/8/8/4k3/8/4K3/8/8 w - - 0 1", "position"],
  ["rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR b", "position"],
  ["1. e4 e5 2. Nf3", "games"],
  ['[White "A"]\n\n1. e4', "games"],
])("%j is taken for %s", (text, kind) => {
  expect(readGiven(text).kind).toBe(kind);
});

test("the headline is what is said first of what is most in danger", () => {
  const reading = {
    head: "Black to move (move 12)",
    takings_first: false,
    ringed: ["e5"],
    can_be_taken: ["a1"],
    dangers: [
      { told: "If Black passes, White wins 4 pawns’ worth.", lines: [] },
      { told: "The knight on e5 is not safe: it costs 3 pawns’ worth.", lines: [] },
    ],
    takings: [{ told: "The rook on a1 can be taken.", lines: [] }],
  };
  const told = reading as unknown as Parameters<typeof headline>[0];
  expect(headline(told)).toBe("The knight on e5 is not safe.");
  expect(headline({ ...told, takings_first: true })).toBe("The rook on a1 can be taken.");
  expect(headline({ ...told, dangers: [], takings: [] })).toBe("Black to move (move 12).");
});
