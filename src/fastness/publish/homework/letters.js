// The same letters and checks as fastness.practice.letters and .code; both are tested by one table.
import { sha256, utf8 } from "./sealed.js";

/** 23 letters, none of which looks like another. */
export const ALPHABET = "23456789ACDEFHJKMPRTWXY";
const BASE = ALPHABET.length;
const AT = 5;
const AT_TOO = 7;
const HALF = 12;
const GROUP = 4;

/**
 * A number in letters, the highest first; at least `least` of them.
 * @param {bigint} number
 * @param {number} [least]
 * @returns {string}
 */
export function asLetters(number, least = 0) {
  let letters = "";
  for (let left = number; left > 0n; left /= BigInt(BASE)) {
    letters = ALPHABET.charAt(Number(left % BigInt(BASE))) + letters;
  }
  return letters.padStart(least, ALPHABET.charAt(0));
}

/**
 * The number that `asLetters` wrote; undefined where a letter is none.
 * @param {string} letters
 * @returns {bigint | undefined}
 */
export function asNumber(letters) {
  let number = 0n;
  for (const letter of letters) {
    const digit = ALPHABET.indexOf(letter);
    if (digit < 0) return undefined;
    number = number * BigInt(BASE) + BigInt(digit);
  }
  return number;
}

/**
 * What was typed in capitals, without spaces and hyphens.
 * @param {string} text
 * @returns {string}
 */
export function tidied(text) {
  return text.toUpperCase().replace(/[^\p{L}\p{N}]/gu, "");
}

/**
 * Letters in groups of four.
 * @param {string} letters
 * @returns {string}
 */
export function grouped(letters) {
  return (letters.match(new RegExp(`.{1,${GROUP}}`, "g")) ?? []).join("-");
}

/**
 * The letters as a polynomial at a point, modulo 23.
 * @param {string} letters
 * @param {number} at
 * @returns {number}
 */
function valueAt(letters, at) {
  let value = 0;
  for (const letter of letters) value = (value * at + ALPHABET.indexOf(letter)) % BASE;
  return value;
}

/**
 * @param {number} number
 * @returns {string}
 */
function letterOf(number) {
  return ALPHABET.charAt(((number % BASE) + BASE) % BASE);
}

/**
 * The letters with the two at the end that catch what is mistyped.
 * @param {string} letters
 * @returns {string}
 */
export function checked(letters) {
  const one = valueAt(letters, AT) * AT * AT;
  const other = valueAt(letters, AT_TOO) * AT_TOO * AT_TOO;
  const first = (one - other) * HALF;
  return letters + letterOf(first) + letterOf(-one - AT * first);
}

/**
 * The student's number (two letters) and key (three) in the word of a slip; undefined where the
 * word is mistyped.
 * @param {string} text
 * @returns {{ student: string, key: string } | undefined}
 */
export function readWord(text) {
  const letters = tidied(text);
  if (letters.length !== 6 || asNumber(letters) === undefined) return undefined;
  if (valueAt(letters, AT) !== 0) return undefined;
  return { student: letters.slice(0, 2), key: letters.slice(2, 5) };
}

/**
 * The code of a student's answers: the homework's number, the student's, the answers, a seal made
 * with the key, and a check.
 * @param {number} homework
 * @param {{ student: string, key: string }} word
 * @param {bigint} answers
 * @returns {string}
 */
export function writeCode(homework, word, answers) {
  const body = asLetters(BigInt(homework), 3) + word.student + asLetters(answers);
  return grouped(checked(body + sealOf(body, word.key)));
}

/**
 * @param {string} body
 * @param {string} key
 * @returns {string}
 */
function sealOf(body, key) {
  let number = 0n;
  for (const byte of sha256(utf8(`${key}:${body}`)).slice(0, 6)) number = number * 256n + BigInt(byte);
  return asLetters(number % BigInt(BASE ** 3), 3);
}
