// What came of a command, for those who hear the page.
import { say } from "../words/say.svelte";
import type { ClassTold, Try } from "./desk.svelte";

/** What is to be said of the change from one state to the next; empty where there is nothing. */
export function said(was: ClassTold, is: ClassTold): string {
  if (is.now.number !== was.now.number) {
    const number = is.positions.findIndex((one) => one.number === is.now.number) + 1;
    return say("Position {number}. {told}", { number, told: is.now.position.told });
  }
  const before = (tried: Try) => was.now.tries.find((one) => one.number === tried.number);
  const entered = is.now.tries.find((one) => !before(one));
  if (entered) return entered.told;
  const counted = is.now.tries.find((one) => before(one)?.hands !== one.hands);
  if (counted) return say("{move}: {number} hands", { move: counted.name, number: counted.hands });
  const { play } = is.now;
  if (play && play.line.told !== was.now.play?.line.told) {
    return `${play.line.steps.at(-1)?.spoken ?? ""}. ${play.told}`;
  }
  if (JSON.stringify(is.sees) === JSON.stringify(was.sees)) return "";
  const seen = is.sees.told || is.sees.spoken || say("the position");
  return say("The class sees: {told}", { told: seen });
}
