import { flushSync, mount, unmount } from "svelte";
import { afterEach, expect, test, vi } from "vitest";
import Board from "../src/board/Board.svelte";
import type { LegalMove } from "../src/board/moves";

const FEN = "4k3/2P5/8/8/8/8/4P3/4K3 w - - 0 1";
const MOVES: LegalMove[] = [
  { uci: "e2e3", name: "e3", spoken: "the pawn on e2 moves to e3" },
  { uci: "e2e4", name: "e4", spoken: "the pawn on e2 moves to e4" },
  { uci: "c7c8q", name: "c8=Q+", spoken: "" },
  { uci: "c7c8n", name: "c8=N", spoken: "" },
];
let mounted: object | undefined;

function board(props: Partial<Parameters<typeof Board>[1]> = {}) {
  const onmove = vi.fn();
  const target = document.createElement("div");
  document.body.append(target);
  mounted = mount(Board, { target, props: { fen: FEN, label: "Board", moves: MOVES, onmove, ...props } });
  flushSync();
  const cell = (square: string) => target.querySelector<HTMLElement>(`[data-square=${square}]`)!;
  const press = async (square: string, key: string) => {
    cell(square).dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
    flushSync();
    await Promise.resolve();
  };
  const tap = (square: string) => {
    cell(square).click();
    flushSync();
  };
  return { target, onmove, cell, press, tap, said: () => target.querySelector("[aria-live]")?.textContent };
}

afterEach(() => {
  if (mounted) void unmount(mounted);
  document.body.replaceChildren();
});

test("one square is tapped and then another", () => {
  const { tap, onmove, cell, said } = board();
  tap("e2");
  expect(cell("e2").getAttribute("aria-selected")).toBe("true");
  expect(said()).toContain("e3, e4");
  tap("e4");
  expect(onmove).toHaveBeenCalledExactlyOnceWith(MOVES[1]);
});

test("a square that cannot be gone to puts the unit back", () => {
  const { tap, onmove, said } = board();
  tap("e2");
  tap("a5");
  expect(onmove).not.toHaveBeenCalled();
  expect(said()).toBe("Put back.");
});

test("what cannot move says so", () => {
  const { tap, said } = board();
  tap("e1");
  expect(said()).toBe("e1, white king has no move.");
});

test("keys lead over the board, pick up and put down", async () => {
  const { press, onmove, cell } = board();
  expect(cell("e1").tabIndex).toBe(0);
  await press("e1", "ArrowUp");
  expect(cell("e2").tabIndex).toBe(0);
  expect(cell("e1").tabIndex).toBe(-1);
  await press("e2", "Enter");
  await press("e3", " ");
  expect(onmove).toHaveBeenCalledExactlyOnceWith(MOVES[0]);
});

test("Escape puts back", async () => {
  const { press, said, cell } = board();
  await press("e2", "Enter");
  await press("e2", "Escape");
  expect(said()).toBe("Put back.");
  expect(cell("e2").getAttribute("aria-selected")).toBe("false");
});

test("a pawn that promotes asks what it becomes", () => {
  const { tap, onmove, target } = board();
  tap("c7");
  tap("c8");
  const choices = [...target.querySelectorAll<HTMLElement>(".units button")];
  expect(choices.map((one) => one.textContent.trim())).toEqual(["white queen", "white knight"]);
  choices[1]?.click();
  expect(onmove).toHaveBeenCalledExactlyOnceWith(MOVES[3]);
});

test("squares say what stands on them and what is marked", () => {
  const numerals = new Map([["e3", "1"]]);
  const { cell } = board({ marks: { ringed: ["e2"], cornered: ["e8"], numerals } });
  expect(cell("e2").getAttribute("aria-label")).toBe("e2, white pawn, not safe");
  expect(cell("e8").getAttribute("aria-label")).toBe("e8, black king, can be taken");
  expect(cell("e3").getAttribute("aria-label")).toBe("e3, empty, step 1");
});

test("a turned board is read from h1", () => {
  const { target } = board({ flip: true });
  const first = target.querySelector("[role=gridcell]");
  expect(first?.getAttribute("data-square")).toBe("h1");
});

test("without moves nothing is picked up", () => {
  const { tap, cell, onmove } = board({ moves: [] });
  tap("e2");
  tap("e4");
  expect(onmove).not.toHaveBeenCalled();
  expect(cell("e2").hasAttribute("aria-selected")).toBe(false);
});

test("setting up, a tap chooses any square and Delete takes off", async () => {
  const onplace = vi.fn();
  const onremove = vi.fn();
  const { tap, press } = board({ onplace, onremove, moves: [] });
  tap("a5");
  await press("e2", "Delete");
  expect(onplace).toHaveBeenCalledExactlyOnceWith("a5");
  expect(onremove).toHaveBeenCalledExactlyOnceWith("e2");
});
