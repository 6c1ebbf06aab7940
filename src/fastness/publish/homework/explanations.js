// After the code was made: what each answer does, which its seal gave nobody before.
import { boardDrawn } from "./board.js";
import { inWords, made, nameOf, say } from "./parts.js";
import { describeBoard } from "./question.js";
import { unseal } from "./sealed.js";

/** @typedef {import("./parts.js").Homework} Homework */
/** @typedef {import("./parts.js").Exercise} Exercise */
/** @typedef {import("./parts.js").Given} Given */

/**
 * @param {Homework} homework
 * @param {readonly Given[]} answers
 * @returns {HTMLElement[]}
 */
export function explanations(homework, answers) {
  return homework.exercises.map((exercise, at) => {
    const given = answers[at] ?? null;
    const board = made("div", { class: "board", role: "img" }, [
      boardDrawn(exercise, homework.shapes),
    ]);
    board.setAttribute("aria-label", describeBoard(homework, exercise));
    const count = homework.exercises.length;
    const told = sentences(homework, exercise, given, at).map((text) => made("p", {}, [text]));
    return made("section", { class: "told" }, [
      made("h2", {}, [say(homework, "exercise", { number: at + 1, count })]),
      made("p", {}, [exercise.question]),
      board,
      made("p", { class: "answer" }, [
        say(homework, "yourAnswer", { answer: inWords(homework, exercise, given) }),
      ]),
      ...told,
    ]);
  });
}

/**
 * What is told of the answers given, as fastness.practice.explaining tells it.
 * @param {Homework} homework
 * @param {Exercise} exercise
 * @param {Given} given
 * @param {number} place
 * @returns {string[]}
 */
export function sentences(homework, exercise, given, place) {
  /** @type {{ right: string[], told: string, remarks: string[] }} */
  const finished = JSON.parse(unseal(exercise.finished, homework.salt, place, "*"));
  if (given === null) return [finished.told, ...finished.remarks];
  const answers = given.length ? given : ["none"];
  const opened = answers.map((answer) =>
    unseal(exercise.sealed[answer] ?? "", homework.salt, place, answer),
  );
  const verdicts = opened.map((text) => text.charAt(0));
  const told = opened.map((text) => text.slice(1));
  const right = given.filter((_, at) => verdicts[at] === "r");
  const missing = finished.right.filter((one) => !right.includes(one));
  // Where several may be given all are asked for, else one is enough.
  const enough = exercise.several ? !missing.length : verdicts.includes("r");
  if (enough && !verdicts.includes("w")) told.unshift(say(homework, "well"));
  else if (verdicts.includes("r") && !verdicts.includes("w")) told.unshift(say(homework, "partly"));
  else if (verdicts.every((one) => one === "n")) told.unshift(say(homework, "aside"));
  if (given.length && exercise.several && missing.length) {
    const answers = missing.map((one) => nameOf(homework, exercise, one)).join(", ");
    told.push(say(homework, "more", { answers }));
  } else if (!enough) told.push(finished.told);
  return [...told, ...finished.remarks];
}
