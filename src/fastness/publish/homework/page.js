// The homework's page: a word, one exercise at a time, a look at all of them, and the code.
import { asLetters, asNumber, readWord, tidied, writeCode } from "./letters.js";
import { asOneNumber, readNumber } from "./answers.js";
import { explanations } from "./explanations.js";
import { button, inWords, made, say } from "./parts.js";
import { toAnswer } from "./question.js";

/** @typedef {import("./parts.js").Homework} Homework */
/** @typedef {import("./parts.js").Done} Done */

/**
 * Show the homework in `main`; `tell` says what happened to those who hear the page.
 * @param {Homework} homework
 * @param {HTMLElement} main
 * @param {(text: string) => void} tell
 */
export function showHomework(homework, main, tell) {
  const done = soFar(homework);
  /** Whether it was gone on from the page of a shown exercise to the list of all. */
  let listed = false;

  /**
   * @param {string} heading
   * @param {readonly (Node | string)[]} inside
   */
  function put(heading, inside) {
    const head = made("h1", { tabindex: "-1" }, [heading]);
    document.title = heading === homework.title ? heading : `${heading} – ${homework.title}`;
    main.replaceChildren(head, ...inside);
    tell("");
    window.scrollTo(0, 0);
    head.focus();
  }

  /** @param {string} text */
  function paragraph(text) {
    return made("p", {}, [text]);
  }

  function start() {
    const field = wordField(homework, done, () => exercise(0));
    const how = ["how", "howKeys", "howCode"].map((key) => paragraph(say(homework, key)));
    put(homework.title, [paragraph(homework.due), ...how, field]);
  }

  /** @param {number} at */
  function exercise(at) {
    const one = homework.exercises[at];
    if (!one) return check();
    const count = homework.exercises.length;
    const answering = toAnswer(
      homework,
      one,
      done.answers[at] ?? null,
      (given) => {
        done.answers[at] = given;
        remember(homework, done);
        tell(say(homework, "now", { answer: inWords(homework, one, given) }));
      },
      tell,
    );
    const steps = [
      ...(at > 0 ? [button(say(homework, "back"), () => exercise(at - 1))] : []),
      ...(listed ? [button(say(homework, "all"), check)] : []),
      button(say(homework, at + 1 < count ? "next" : "look"), () => exercise(at + 1), "main"),
    ];
    put(say(homework, "exercise", { number: at + 1, count }), [
      made("p", { class: "question" }, [one.question]),
      ...answering,
      made("nav", { "aria-label": say(homework, "exercises") }, steps),
    ]);
  }

  function check() {
    listed = true;
    const rows = homework.exercises.map((one, at) => {
      const name = say(homework, "exercise", { number: at + 1, count: homework.exercises.length });
      return made("li", {}, [
        button(name, () => exercise(at), "link"),
        `: ${inWords(homework, one, done.answers[at] ?? null)}`,
      ]);
    });
    const open = done.answers.filter((given) => given === null).length;
    const word = wordField(homework, done, code, "finish");
    put(say(homework, "isThatAll"), [
      paragraph(open ? say(homework, "someOpen", { number: open }) : say(homework, "noneOpen")),
      made("ul", { class: "rows" }, rows),
      paragraph(say(homework, "afterwards")),
      word,
    ]);
  }

  function code() {
    const word = readWord(done.word);
    if (!word) return check();
    const answers = asOneNumber(homework.exercises, done.answers);
    const text = writeCode(homework.number, word, answers);
    const shown = made("p", { class: "code" }, [text]);
    put(say(homework, "yourCode"), [
      shown,
      button(say(homework, "copy"), () => copy(shown, () => tell(say(homework, "copied")))),
      paragraph(say(homework, "giveCode")),
      ...explanations(homework, done.answers),
    ]);
  }

  start();
}

/**
 * The field for the word of the slip, and a button to go on; a mistyped word is told.
 * @param {Homework} homework
 * @param {Done} done
 * @param {() => void} goOn
 * @param {string} [action]
 * @returns {HTMLFormElement}
 */
function wordField(homework, done, goOn, action = "begin") {
  const field = made("input", {
    id: "word",
    type: "text",
    autocomplete: "off",
    autocapitalize: "characters",
    spellcheck: "false",
    "aria-describedby": "word-wrong",
  });
  field.value = done.word;
  const wrong = made("p", { id: "word-wrong", class: "wrong", role: "alert" });
  const form = made("form", {}, [
    made("label", { for: "word" }, [say(homework, "word")]),
    field,
    wrong,
    made("button", { type: "submit", class: "main" }, [say(homework, action)]),
  ]);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const empty = tidied(field.value) === "";
    if (readWord(field.value) || (empty && action === "begin")) {
      done.word = field.value;
      remember(homework, done);
      goOn();
      return;
    }
    wrong.textContent = say(homework, empty ? "wordMissing" : "wordWrong");
    field.setAttribute("aria-invalid", "true");
    field.focus();
  });
  return form;
}

/**
 * Copy the code; where the browser lets no page copy, it stays chosen, so that the reader can.
 * @param {HTMLElement} shown
 * @param {() => void} copied
 */
function copy(shown, copied) {
  const range = document.createRange();
  range.selectNodeContents(shown);
  const chosen = getSelection();
  chosen?.removeAllRanges();
  chosen?.addRange(range);
  const written = navigator.clipboard?.writeText(shown.textContent ?? "") ?? Promise.reject();
  written.then(copied, () => {
    // The old way, for pages that were opened from a file.
    if (document.execCommand("copy")) copied();
  });
}

/**
 * What was done before the page was loaded anew; it stands behind the # of its address.
 * @param {Homework} homework
 * @returns {Done}
 */
function soFar(homework) {
  const [word = "", letters = ""] = location.hash.slice(1).split(".");
  const number = asNumber(tidied(letters));
  const known = number === undefined ? undefined : readNumber(homework.exercises, number);
  const answers = known ?? homework.exercises.map(() => null);
  return { word: homework.word || word, answers };
}

/**
 * Keep what was done in the page's address, which goes nowhere.
 * @param {Homework} homework
 * @param {Done} done
 */
function remember(homework, done) {
  const letters = asLetters(asOneNumber(homework.exercises, done.answers));
  const word = readWord(done.word) ? tidied(done.word) : "";
  try {
    history.replaceState(null, "", `#${word}.${letters}`);
  } catch {
    // Some viewers of files give a page no address; then it is only lost when the page is closed.
  }
}
