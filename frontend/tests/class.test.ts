import { flushSync, mount, unmount } from "svelte";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { ProblemError, type Schemas } from "../src/api/client";
import Commands from "../src/classroom/Commands.svelte";
import { Desk, type ClassTold } from "../src/classroom/desk.svelte";
import { follow } from "../src/classroom/following.svelte";
import { commandFor, commandsOf, keyOf, keyShown, type Group } from "../src/classroom/keys";
import { Orders } from "../src/classroom/orders";
import { playOut } from "../src/classroom/playout";
import { said } from "../src/classroom/said";
import Screen from "../src/classroom/Screen.svelte";
import { marksShown, type ClassBoard } from "../src/classroom/shown";
import Tries from "../src/classroom/Tries.svelte";
import { Playing } from "../src/board/playing.svelte";

const FEN = "8/8/3k4/N7/8/4br2/8/4K3 b - - 0 1";
const BOARD: ClassBoard = {
  over: false,
  fen: FEN,
  side: "black",
  language: "en",
  theme: "system",
  marks: { ringed: [], cornered: [], attacks: [], guards: [] },
  moves: [],
  spoken: "",
  told: "",
};
const LINE = {
  told: "1...Rf8 2.Nc4+ Kc5",
  steps: ["f3f8", "a5c4", "d6c5"].map((uci) => ({ uci, name: uci, spoken: uci, fen: FEN })),
};

function tried(number: number, name: string, holds: boolean, hands = 0): Schemas["TryTold"] {
  return { number, uci: "f3f8", name, holds, firm: true, told: `${name} …`, line: LINE, hands };
}

function told(more: Partial<ClassTold["shown"]> = {}, tries = [tried(4, "Rf8", false)]): ClassTold {
  const position = { fen: FEN, side: "black", in_check: false, over: null, moves: [], told: "" } as const;
  return {
    number: 7,
    title: "Monday",
    turned: false,
    positions: [1, 2, 3].map((number) => ({ number, fen: FEN, origin: "own", of: 0, tries: 0 })),
    now: { number: 2, origin: "own", of: 0, asked: "", note: "", position, tries, play: null },
    shown: { what: "position", number: 0, step: 0, line: null, told: "", said: false, ...more },
    sees: BOARD,
  } as unknown as ClassTold;
}

/** Orders that are written down, and answered with the session as it was given. */
class Written extends Orders {
  readonly given: string[] = [];
  answer: ClassTold = told();
  constructor() {
    super(7);
    const names = ["enter", "takeOut", "hands", "show", "step", "say", "playOn", "playMove", "takeBack", "goTo", "screen"];
    for (const name of names) {
      const asked = (...values: unknown[]) => {
        this.given.push([name, ...values.map((value) => JSON.stringify(value))].join(" "));
        return Promise.resolve(this.answer);
      };
      Object.defineProperty(this, name, { value: asked });
    }
  }
}

let mounted: object[] = [];
function shown<Props extends Record<string, unknown>>(what: unknown, props: Props): HTMLElement {
  const target = document.createElement("div");
  document.body.append(target);
  mounted.push(mount(what as Parameters<typeof mount>[0], { target, props }));
  flushSync();
  return target;
}

beforeEach(() => {
  vi.stubGlobal("matchMedia", () => ({ matches: false }));
});
afterEach(() => {
  for (const one of mounted) void unmount(one);
  mounted = [];
  document.body.replaceChildren();
  vi.unstubAllGlobals();
  vi.useRealTimers();
});

function deskAt(now: ClassTold): { desk: Desk; orders: Written; groups: () => Group[]; typed: () => number } {
  const desk = new Desk();
  desk.put(now);
  const orders = new Written();
  orders.answer = now;
  let typed = 0;
  const groups = () =>
    commandsOf(desk, orders, { typeMove: () => (typed += 1), playOut: () => playOut(desk, orders) });
  return { desk, orders, groups, typed: () => typed };
}

test.each([
  ["v", 'show "try" 4'],
  ["m", 'show "try" 4 false'],
  ["s", 'show "marks"'],
  ["w", 'show "side"'],
  ["a", 'show "answer"'],
  ["o", "playOn 4"],
  ["+", "hands 4 1"],
  ["Delete", "takeOut 4"],
  ["n", "goTo 3"],
  ["b", "goTo 1"],
  ["f", 'screen {"turned":true}'],
  ["l", 'screen {"theme":"dark"}'],
  ["g", 'screen {"language":"de"}'],
])("the key %s asks for %s", async (key, asked) => {
  const { desk, orders, groups } = deskAt(told());
  commandFor(groups(), key)?.run();
  await desk.do(() => undefined);
  expect(orders.given).toEqual([asked]);
});

test.each([
  ["ArrowRight", "step 2"],
  ["PageDown", "step 2"],
  ["ArrowLeft", "step 0"],
  ["x", "say false"],
  ["p", 'show "position"'],
])("with a try on the board the key %s asks for %s", async (key, asked) => {
  const now = told({ what: "try", number: 4, step: 1, line: LINE, told: "Rf8 …", said: true });
  const { desk, orders, groups } = deskAt(now);
  commandFor(groups(), key)?.run();
  await desk.do(() => undefined);
  expect(orders.given).toEqual([asked]);
});

test.each(["-", "x", "ArrowRight", "ArrowLeft", "r", "u", "p", "q"])(
  "what cannot be done now has no command: %s",
  (key) => {
    expect(commandFor(deskAt(told()).groups(), key)).toBeUndefined();
  },
);

test("a try that holds has nothing to play against, and at the ends there is no position beside", () => {
  const now = told({}, [tried(4, "Nc6", true)]);
  now.now.number = 3;
  const { groups } = deskAt(now);
  expect(commandFor(groups(), "o")).toBeUndefined();
  expect(commandFor(groups(), "n")).toBeUndefined();
  expect(commandFor(groups(), "b")).toBeDefined();
});

test("no key stands for two commands", () => {
  const keys = deskAt(told())
    .groups()
    .flatMap((group) => group.commands.flatMap((command) => command.keys));
  expect(new Set(keys).size).toBe(keys.length);
});

test("keys are left to fields, to the board and to the browser", () => {
  const pressed = (target: HTMLElement, key: string, more: KeyboardEventInit = {}) => {
    document.body.replaceChildren(target);
    let found: string | undefined;
    target.addEventListener("keydown", (event) => (found = keyOf(event)), { once: true });
    target.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, ...more }));
    return found;
  };
  const grid = Object.assign(document.createElement("div"), { role: "grid" });
  grid.setAttribute("role", "grid");
  const box = Object.assign(document.createElement("input"), { type: "checkbox" });
  expect(pressed(document.createElement("input"), "v")).toBeUndefined();
  expect(pressed(document.createElement("textarea"), "v")).toBeUndefined();
  expect(pressed(box, "v")).toBe("v");
  expect(pressed(grid, "ArrowRight")).toBeUndefined();
  expect(pressed(grid, "V")).toBe("v");
  expect(pressed(document.createElement("p"), "f", { ctrlKey: true })).toBeUndefined();
  expect(pressed(document.createElement("p"), "=")).toBe("+");
});

test("every command is a button with its key, and the keys can be put to sleep", () => {
  const { desk, orders, groups } = deskAt(told());
  const target = shown(Commands, { groups: groups(), settled: () => desk.settled() });
  const all = groups().flatMap((group) => group.commands);
  const buttons = [...target.querySelectorAll("button")];
  expect(buttons.map((button) => button.textContent)).toEqual(
    all.map((command) => `${keyShown(command.key)}${command.name}`),
  );
  const press = () =>
    document.body.dispatchEvent(new KeyboardEvent("keydown", { key: "s", bubbles: true }));
  target.querySelector<HTMLInputElement>("input[type=checkbox]")!.click();
  flushSync();
  press();
  return desk
    .do(() => undefined)
    .then(() => expect(orders.given).toEqual([]))
    .then(() => {
      target.querySelector<HTMLInputElement>("input[type=checkbox]")!.click();
      flushSync();
      press();
      return desk.do(() => undefined);
    })
    .then(() => expect(orders.given).toEqual(['show "marks"']));
});

test("a key pressed before the command ahead of it is made waits for it", async () => {
  const { desk, orders } = deskAt(told());
  orders.answer = told({ what: "try", number: 4, step: 1, line: LINE });
  const target = document.createElement("div");
  document.body.append(target);
  const props = {
    get groups() {
      return commandsOf(desk, orders, { typeMove: () => undefined, playOut: () => undefined });
    },
    settled: () => desk.settled(),
  };
  mounted.push(mount(Commands, { target, props }));
  flushSync();
  for (const key of ["v", "ArrowRight"]) {
    document.body.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
  }
  await desk.settled();
  await desk.settled();
  expect(orders.given).toEqual(['show "try" 4', "step 2"]);
});

test("commands are made one after another, each from the session as it is then", async () => {
  const desk = new Desk();
  desk.put(told({ step: 0 }));
  const seen: number[] = [];
  const step = (now: ClassTold) => {
    seen.push(now.shown.step);
    return new Promise<ClassTold>((answer) =>
      setTimeout(() => answer(told({ step: now.shown.step + 1 })), 1),
    );
  };
  await Promise.all([desk.do(step), desk.do(step), desk.do(step)]);
  expect(seen).toEqual([0, 1, 2]);
  expect(desk.told?.shown.step).toBe(3);
  expect(desk.busy).toBe(false);
});

test("what was wrong is kept, and the next command is made all the same", async () => {
  const desk = new Desk();
  desk.put(told());
  await desk.do(() => Promise.reject(new ProblemError(422, "input", "No line is on the board.")));
  expect(desk.problem?.message).toBe("No line is on the board.");
  await desk.do(() => Promise.resolve(told({ what: "marks" })));
  expect(desk.problem).toBeUndefined();
  expect(desk.told?.shown.what).toBe("marks");
});

test("what came of a command is said", () => {
  const before = told({}, [tried(4, "Rf8", false)]);
  expect(said(before, before)).toBe("");
  const entered = told({}, [tried(4, "Rf8", false), tried(5, "Ke5", true)]);
  expect(said(before, entered)).toBe("Ke5 …");
  expect(said(before, told({}, [tried(4, "Rf8", false, 2)]))).toBe("Rf8: 2 hands");
  const shown = { ...before, sees: { ...BOARD, told: "Rf8 loses 3 pawns’ worth." } };
  expect(said(before, shown)).toBe("The class sees: Rf8 loses 3 pawns’ worth.");
  expect(said(shown, before)).toBe("The class sees: the position");
  const next = told();
  next.now.number = 3;
  next.now.position.told = "White: king e1.";
  expect(said(before, next)).toBe("Position 3. White: king e1.");
});

test("the try entered last is chosen until another is", () => {
  const desk = new Desk();
  desk.put(told({}, [tried(4, "Rf8", false), tried(5, "Ke5", true)]));
  expect(desk.chosen?.number).toBe(5);
  desk.chooseBeside(1);
  expect(desk.chosen?.number).toBe(5);
  desk.chooseBeside(-1);
  expect(desk.chosen?.number).toBe(4);
  desk.put(told({}, [tried(5, "Ke5", true)]));
  expect(desk.chosen?.number).toBe(5);
});

test("a line is played out step by step, and another command ends it", async () => {
  vi.useFakeTimers();
  const { desk, orders } = deskAt(told({ what: "try", number: 4, step: 1, line: LINE }));
  orders.answer = told({ what: "try", number: 4, step: 2, line: LINE });
  playOut(desk, orders);
  await vi.advanceTimersByTimeAsync(10);
  expect(orders.given).toEqual(["step 2"]);
  desk.put(told());
  await vi.advanceTimersByTimeAsync(5000);
  expect(orders.given).toEqual(["step 2"]);
});

test("without motion the end of a line is shown at once", async () => {
  vi.stubGlobal("matchMedia", () => ({ matches: true }));
  const { desk, orders } = deskAt(told({ what: "try", number: 4, step: 1, line: LINE }));
  playOut(desk, orders);
  await desk.do(() => undefined);
  expect(orders.given).toEqual(["step 3"]);
});

test("the class's screen is a board, and a sentence only where there is one", () => {
  const target = shown(Screen, { board: BOARD });
  expect(target.querySelectorAll("[role=gridcell]")).toHaveLength(64);
  expect(target.querySelectorAll("button, a, input, h2")).toHaveLength(0);
  const sentence = target.querySelector(".told")!;
  expect(sentence.textContent).toBe("");
  expect(sentence.getAttribute("aria-live")).toBe("polite");
  const said = shown(Screen, { board: { ...BOARD, told: "Rf8 loses 3 pawns’ worth.", side: "white" } });
  expect(said.querySelector(".told")!.textContent).toBe("Rf8 loses 3 pawns’ worth.");
  expect(said.querySelector("[role=gridcell]")!.getAttribute("data-square")).toBe("a8");
  expect(target.querySelector("[role=gridcell]")!.getAttribute("data-square")).toBe("h1");
});

test("a single move has no number, a line has", () => {
  expect(marksShown({ ...BOARD, moves: ["f3f8"] }).numerals?.size).toBe(0);
  expect(marksShown({ ...BOARD, moves: ["f3f8", "a5c4"] }).numerals?.get("c4")).toBe("2");
});

test("a try is typed; what is no move is told and kept in the field", () => {
  const desk = new Desk();
  desk.put(told());
  const onmove = vi.fn();
  const move = { uci: "f3f8", name: "Rf8", spoken: "" };
  const props = { desk, moves: [move], label: "A try", playing: new Playing(), onmove, onhands: vi.fn(), onshow: vi.fn() };
  const target = shown(Tries, props);
  const field = target.querySelector("input")!;
  const enter = (text: string) => {
    field.value = text;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    target.querySelector("form")!.dispatchEvent(new Event("submit", { bubbles: true, cancelable: true }));
    flushSync();
  };
  enter("Rf9");
  expect(onmove).not.toHaveBeenCalled();
  expect(target.querySelector("[role=alert]")!.textContent).toContain("Rf9");
  field.focus();
  enter("rf8");
  expect(onmove).toHaveBeenCalledExactlyOnceWith(move);
  expect(field.value).toBe("");
  // The keys work again.
  expect(document.activeElement).not.toBe(field);
});

test("hands are counted by buttons that say so", () => {
  const desk = new Desk();
  desk.put(told({}, [tried(4, "Rf8", false, 1)]));
  const onhands = vi.fn();
  const props = { desk, moves: [], label: "A try", playing: new Playing(), onmove: vi.fn(), onhands, onshow: vi.fn() };
  const target = shown(Tries, props);
  expect(target.querySelector("output")!.textContent).toBe("one hand");
  const [fewer, more] = target.querySelectorAll<HTMLElement>(".hands button");
  more!.click();
  fewer!.click();
  expect(onhands.mock.calls.map(([, change]) => change as number)).toEqual([1, -1]);
  expect(more!.textContent).toContain("one hand more");
});

test("events are heard until it is over, and a refusal is told from a pause", () => {
  const made: FakeSource[] = [];
  class FakeSource {
    static readonly CLOSED = 2;
    readyState = 1;
    onopen?: () => void;
    onmessage?: (event: { data: string }) => void;
    onerror?: () => void;
    closed = false;
    constructor(readonly address: string) {
      made.push(this);
    }
    close(): void {
      this.closed = true;
    }
  }
  vi.stubGlobal("EventSource", FakeSource);
  const heard = vi.fn();
  const there = vi.fn();
  const refused = vi.fn();
  const stop = follow<ClassBoard>("/api/shared/boards/x/events", { heard, there, refused });
  const source = made[0]!;
  source.onopen?.();
  source.onmessage?.({ data: JSON.stringify(BOARD) });
  expect(heard).toHaveBeenLastCalledWith(BOARD);
  source.onerror?.();
  expect(there.mock.calls.map(([now]) => now as boolean)).toEqual([true, false]);
  source.readyState = 2;
  source.onerror?.();
  expect(refused).toHaveBeenCalledOnce();
  source.onmessage?.({ data: JSON.stringify({ ...BOARD, over: true }) });
  expect(source.closed).toBe(true);
  stop();
});
