// What the class sees, as the board draws it.
import type { Schemas } from "../api/client";
import { numeralsOf, type Marks } from "../board/marks";

export type ClassBoard = Schemas["ClassBoard"];

/** The marks of what is shown: what is not safe, or the steps of a line. */
export function marksShown(board: ClassBoard): Marks {
  const { ringed, cornered, attacks, guards } = board.marks;
  return {
    ringed,
    cornered,
    attacks: attacks as [string, string][],
    guards: guards as [string, string][],
    numerals: board.moves.length > 1 ? numeralsOf(board.moves, board.moves.length) : new Map(),
  };
}
