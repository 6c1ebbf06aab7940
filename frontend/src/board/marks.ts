// The marks of a diagram, drawn as in print: what is in danger, what attacks and guards it.
import shapes from "./shapes.json";
import { middleOf, type Point } from "./squares";

const { RING, CORNER, EDGE } = shapes.marks;
const PASS = "0000";

/** Squares: in a broken ring, in corners, and (from, to) of each attack and guard; numerals. */
export interface Marks {
  ringed?: readonly string[];
  cornered?: readonly string[];
  attacks?: readonly (readonly [string, string])[];
  guards?: readonly (readonly [string, string])[];
  numerals?: ReadonlyMap<string, string>;
}

interface Bearing {
  square: string;
  unit: string;
  attackers: readonly string[];
  guards: readonly string[];
}

/** What a survey asks for: each ringed unit with what attacks and what guards it. */
export function marksOf(
  ringed: readonly string[],
  cornered: readonly string[],
  units: readonly Bearing[],
): Marks {
  const found = units.filter((one) => ringed.includes(one.square));
  return {
    ringed,
    cornered,
    attacks: found.flatMap((one) => one.attackers.map((from) => [from, one.square] as const)),
    guards: found
      .filter((one) => one.unit !== "king")
      .flatMap((one) => one.guards.map((from) => [from, one.square] as const)),
  };
}

/** The numbers of a line's moves by the square that each reaches, up to the step shown. */
export function numeralsOf(ucis: readonly string[], shown: number): Map<string, string> {
  const numerals = new Map<string, string>();
  const moved = ucis.slice(0, shown).filter((uci) => uci !== PASS);
  moved.forEach((uci, index) => {
    const square = uci.slice(2, 4);
    const before = numerals.get(square);
    numerals.set(square, before ? `${before} ${index + 1}` : String(index + 1));
  });
  return numerals;
}

/** A line from the middle of a square to the ring around the middle of another. */
export function lineBetween(from: string, to: string, flip: boolean): string {
  const [x, y] = middleOf(from, flip);
  const [toX, toY] = middleOf(to, flip);
  const share = 1 - RING / Math.hypot(toX - x, toY - y);
  return `M${x} ${y}L${(x + share * (toX - x)).toFixed(1)} ${(y + share * (toY - y)).toFixed(1)}`;
}

/** Four corners around the middle of a square. */
export function cornersAround([x, y]: Point): string {
  return [-1, 1]
    .flatMap((right) => [-1, 1].map((down) => [right, down] as const))
    .map(
      ([right, down]) =>
        `M${x + right * (EDGE - CORNER)} ${y + down * EDGE}` +
        `H${x + right * EDGE}V${y + down * (EDGE - CORNER)}`,
    )
    .join("");
}
