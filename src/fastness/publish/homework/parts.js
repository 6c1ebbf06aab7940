// What the page is given, what the student has done, and how elements are made.

/**
 * An exercise of the page. `names` are those of the choices, each in the page's language first.
 * `flip`: Black is below. `played`: the squares of the move that is asked about. `sealed` has an
 * explanation for each answer, `finished` what is right, which opens with the answer "*".
 * @typedef {{ kind: string, question: string, fen: string, flip: boolean, played: readonly string[],
 *   choices: readonly string[], names: readonly (readonly string[])[], several: boolean,
 *   nothing: boolean, sealed: Readonly<Record<string, string>>, finished: string }} Exercise
 */

/**
 * @typedef {{ number: number, salt: string, title: string, due: string, word: string,
 *   words: Readonly<Record<string, string>>, units: Readonly<Record<string, string>>,
 *   shapes: import("./board.js").Shapes, exercises: readonly Exercise[] }} Homework
 */

/** @typedef {import("./answers.js").Given} Given */

/** @typedef {{ word: string, answers: Given[] }} Done What the student has done so far. */

/**
 * A text of the page with its values.
 * @param {Homework} homework
 * @param {string} key
 * @param {Readonly<Record<string, string | number>>} [values]
 * @returns {string}
 */
export function say(homework, key, values = {}) {
  let text = homework.words[key] ?? key;
  for (const [name, value] of Object.entries(values)) text = text.replaceAll(`{${name}}`, `${value}`);
  return text;
}

/**
 * An element with attributes, and what is in it.
 * @template {keyof HTMLElementTagNameMap} Name
 * @param {Name} name
 * @param {Readonly<Record<string, string>>} attributes
 * @param {readonly (Node | string)[]} inside
 * @returns {HTMLElementTagNameMap[Name]}
 */
export function made(name, attributes, inside = []) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  element.append(...inside);
  return element;
}

/**
 * @param {string} text
 * @param {() => void} press
 * @param {string} [kind]
 * @returns {HTMLButtonElement}
 */
export function button(text, press, kind = "") {
  const element = made("button", { type: "button", class: kind }, [text]);
  element.addEventListener("click", press);
  return element;
}

/**
 * The name of an answer, as it is written on paper.
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @param {string} answer
 * @returns {string}
 */
export function nameOf(homework, exercise, answer) {
  const name = exercise.names[exercise.choices.indexOf(answer)]?.[0];
  return name ?? say(homework, answer);
}

/**
 * The answers given, with commas between.
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @param {Given} given
 * @returns {string}
 */
export function inWords(homework, exercise, given) {
  if (given === null) return say(homework, "open");
  if (!given.length) return say(homework, "nothing");
  return given.map((one) => nameOf(homework, exercise, one)).join(", ");
}

/**
 * What stands on a square: "e4, White, pawn".
 * @param {Homework} homework
 * @param {ReadonlyMap<string, string>} units
 * @param {string} square
 * @returns {string}
 */
export function squareNamed(homework, units, square) {
  const letter = units.get(square);
  return `${square}, ${letter ? (homework.units[letter] ?? "") : say(homework, "empty")}`;
}
