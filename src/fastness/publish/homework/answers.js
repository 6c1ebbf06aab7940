// A student's answers as one number, as in fastness.practice.choices.

/**
 * What may be answered to an exercise: `several` answers, and none at all where `nothing` may be
 * said.
 * @typedef {{ choices: readonly string[], several: boolean, nothing: boolean }} Answerable
 */

/** @typedef {readonly string[] | null} Given The answers in the order of the choices; null: open. */

/**
 * In how many ways some can be taken out of many.
 * @param {number} many
 * @param {number} some
 * @returns {bigint}
 */
export function ways(many, some) {
  if (some > many) return 0n;
  let found = 1n;
  for (let at = 1; at <= some; at += 1) found = (found * BigInt(many - some + at)) / BigInt(at);
  return found;
}

/**
 * @param {Answerable} exercise
 * @returns {bigint}
 */
function counts(exercise) {
  return exercise.several ? BigInt(exercise.choices.length + 2) : 3n;
}

/**
 * @param {readonly Answerable[]} exercises
 * @param {readonly Given[]} answers
 * @returns {bigint}
 */
export function asOneNumber(exercises, answers) {
  let number = 0n;
  for (let place = exercises.length - 1; place >= 0; place -= 1) {
    const exercise = exercises[place];
    const given = answers[place] ?? null;
    if (!exercise) continue;
    if (given?.length) {
      let rank = 0n;
      given.forEach((one, at) => (rank += ways(exercise.choices.indexOf(one), at + 1)));
      number = number * ways(exercise.choices.length, given.length) + rank;
    }
    number = number * counts(exercise) + BigInt(given === null ? 0 : given.length + 1);
  }
  return number;
}

/**
 * The answers that `asOneNumber` made a number of; undefined where it is none.
 * @param {readonly Answerable[]} exercises
 * @param {bigint} number
 * @returns {Given[] | undefined}
 */
export function readNumber(exercises, number) {
  let left = number;
  /** @type {Given[]} */
  const answers = [];
  for (const exercise of exercises) {
    const count = Number(left % counts(exercise));
    left /= counts(exercise);
    if (count === 0) {
      answers.push(null);
      continue;
    }
    if (count === 1 && !exercise.nothing) return undefined;
    const all = ways(exercise.choices.length, count - 1);
    let rank = left % all;
    left /= all;
    /** @type {string[]} */
    const given = [];
    for (let at = count - 1; at > 0; at -= 1) {
      let one = at - 1;
      while (ways(one + 1, at) <= rank) one += 1;
      given.unshift(exercise.choices[one] ?? "");
      rank -= ways(one, at);
    }
    answers.push(given);
  }
  return left === 0n ? answers : undefined;
}

/**
 * The choices that a move as it was typed can mean: by its name in either language, with or without
 * the signs for capture, check and mate, or by its two squares.
 * @param {readonly { answer: string, names: readonly string[] }[]} choices
 * @param {string} typed
 * @returns {string[]}
 */
export function meant(choices, typed) {
  /** @param {string} text */
  const bare = (text) => text.replace(/^\d+\.+/, "").replace(/[\s+#xX:=\-–!?]/g, "");
  const wanted = bare(typed.replaceAll("0", "O"));
  const plain = bare(typed).toLowerCase();
  if (!plain) return [];
  const exact = choices.filter((one) => one.names.some((name) => bare(name) === wanted));
  // A bishop and the pawn of the file b differ by the capital alone, so that it decides first.
  const found = exact.length
    ? exact
    : choices.filter(
        (one) =>
          one.answer === plain ||
          one.names.some((name) => bare(name).toLowerCase() === wanted.toLowerCase()),
      );
  return found.map((one) => one.answer);
}
