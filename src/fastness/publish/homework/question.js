// One exercise to be answered: on the board, by keys, or by typing a move.
import { boardDrawn, boardToTap, unitsOf } from "./board.js";
import { meant } from "./answers.js";
import { button, made, nameOf, say, squareNamed } from "./parts.js";

/** @typedef {import("./parts.js").Homework} Homework */
/** @typedef {import("./parts.js").Exercise} Exercise */
/** @typedef {import("./parts.js").Given} Given */

/**
 * The board and the means to answer; `change` is told the new answers, `tell` what just happened.
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @param {Given} before
 * @param {(given: Given) => void} change
 * @param {(text: string) => void} tell
 * @returns {HTMLElement[]}
 */
export function toAnswer(homework, exercise, before, change, tell) {
  if (exercise.kind === "is it safe") return yesOrNo(homework, exercise, before, change);
  return exercise.kind === "which unit"
    ? units(homework, exercise, before, change)
    : moves(homework, exercise, before, change, tell);
}

/**
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @param {Given} before
 * @param {(given: Given) => void} change
 * @returns {HTMLElement[]}
 */
function yesOrNo(homework, exercise, before, change) {
  const buttons = ["yes", "no"].map((answer) =>
    button(say(homework, answer), () => {
      change([answer]);
      show([answer]);
    }),
  );
  /** @param {Given} given */
  function show(given) {
    buttons.forEach((one, at) =>
      one.setAttribute("aria-pressed", String(given?.[0] === ["yes", "no"][at])),
    );
  }
  show(before);
  const told = describeBoard(homework, exercise);
  const board = made("div", { class: "board", role: "img", "aria-label": told }, [
    boardDrawn(exercise, homework.shapes),
  ]);
  return [board, made("div", { class: "choices" }, buttons)];
}

/**
 * The position in words, White first.
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @returns {string}
 */
export function describeBoard(homework, exercise) {
  const all = unitsOf(exercise.fen);
  const squares = [...all.keys()].sort(
    (one, other) => Number(lower(all, one)) - Number(lower(all, other)),
  );
  return squares.map((square) => squareNamed(homework, all, square)).join("; ");
}

/**
 * @param {ReadonlyMap<string, string>} all
 * @param {string} square
 * @returns {boolean}
 */
function lower(all, square) {
  const letter = all.get(square) ?? "";
  return letter === letter.toLowerCase();
}

/**
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @param {Given} before
 * @param {(given: Given) => void} change
 * @returns {HTMLElement[]}
 */
function units(homework, exercise, before, change) {
  let given = before;
  const nothing = button(say(homework, "nothing"), () => {
    given = given?.length === 0 ? null : [];
    show();
    change(given);
  });
  const board = boardToTap({
    position: exercise,
    shapes: homework.shapes,
    label: say(homework, "board"),
    first: exercise.choices[0] ?? "e1",
    name: (square) => squareNamed(homework, unitsOf(exercise.fen), square),
    choose(square) {
      if (!exercise.choices.includes(square)) return;
      const chosen = given ?? [];
      const kept = exercise.choices.filter((one) =>
        one === square ? !chosen.includes(one) : chosen.includes(one),
      );
      given = kept.length ? kept : null;
      show();
      change(given);
    },
  });
  function show() {
    board.mark(new Map((given ?? []).map((square) => [square, "ringed"])), new Set(given ?? []));
    nothing.setAttribute("aria-pressed", String(given?.length === 0));
  }
  show();
  return [board.element, made("div", { class: "choices" }, [nothing])];
}

/**
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @param {Given} before
 * @param {(given: Given) => void} change
 * @param {(text: string) => void} tell
 * @returns {HTMLElement[]}
 */
function moves(homework, exercise, before, change, tell) {
  let given = before;
  let picked = "";
  const list = made("ul", { class: "given" });
  const ask = made("div", { class: "choices" });
  const all = unitsOf(exercise.fen);

  /** @param {string} square */
  const from = (square) => exercise.choices.filter((one) => one.startsWith(square));

  const board = boardToTap({
    position: exercise,
    shapes: homework.shapes,
    label: say(homework, "board"),
    first: (exercise.choices[0] ?? "e1").slice(0, 2),
    name(square) {
      const name = squareNamed(homework, all, square);
      if (square === picked) return `${name}, ${say(homework, "picked")}`;
      const reached = picked && from(picked).some((one) => one.slice(2, 4) === square);
      return reached ? `${name}, ${say(homework, "reached")}` : name;
    },
    choose(square) {
      const found = picked ? from(picked).filter((one) => one.slice(2, 4) === square) : [];
      ask.replaceChildren();
      if (found.length > 1) offer(found);
      else if (found[0]) take(found[0]);
      else if (square === picked) picked = "";
      else if (from(square).length) picked = square;
      else if (picked) tell(say(homework, "cannot"));
      show();
    },
  });

  /** @param {readonly string[]} found */
  function offer(found) {
    ask.replaceChildren(
      ...found.map((one) =>
        button(nameOf(homework, exercise, one), () => {
          take(one);
          ask.replaceChildren();
          show();
        }),
      ),
    );
    const first = ask.firstElementChild;
    if (first instanceof HTMLElement) first.focus();
  }

  /** @param {string} answer */
  function take(answer) {
    picked = "";
    const kept = exercise.several ? [...(given ?? []), answer] : [answer];
    given = exercise.choices.filter((one) => kept.includes(one));
    tell(say(homework, "taken", { move: nameOf(homework, exercise, answer) }));
    change(given);
  }

  /** @param {string} answer */
  function leave(answer) {
    const kept = (given ?? []).filter((one) => one !== answer);
    given = kept.length ? kept : null;
    tell(say(homework, "left", { move: nameOf(homework, exercise, answer) }));
    change(given);
    show();
    field.focus();
  }

  const field = made("input", {
    id: "typed",
    type: "text",
    autocomplete: "off",
    autocapitalize: "off",
    spellcheck: "false",
  });
  const form = made("form", { class: "typed" }, [
    made("label", { for: "typed" }, [say(homework, "type")]),
    field,
    made("button", { type: "submit" }, [say(homework, "add")]),
  ]);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const named = exercise.choices.map((answer, at) => ({ answer, names: exercise.names[at] ?? [] }));
    const found = meant(named, field.value);
    ask.replaceChildren();
    if (found.length > 1) offer(found);
    else if (found[0]) take(found[0]);
    else tell(say(homework, "unread", { typed: field.value }));
    if (found.length) field.value = "";
    show();
  });

  function show() {
    /** @type {Map<string, string>} */
    const marks = new Map();
    for (const one of picked ? from(picked) : []) marks.set(one.slice(2, 4), "reached");
    if (picked) marks.set(picked, "picked");
    board.mark(marks, new Set(picked ? [picked] : []));
    list.replaceChildren(
      ...(given ?? []).map((one) => {
        const name = nameOf(homework, exercise, one);
        const away = button(say(homework, "remove"), () => leave(one));
        away.setAttribute("aria-label", say(homework, "removeMove", { move: name }));
        return made("li", {}, [made("span", {}, [name]), away]);
      }),
    );
  }
  show();
  return [board.element, ask, list, form];
}
