// Squares and units as they are said.
import { say } from "../words/say.svelte";
import { unitOf, type Side, type UnitName } from "./position";

/** A unit with its side, as it is said. */
export function unitNamed(unit: UnitName, side: Side): string {
  const names: Record<Side, Record<UnitName, string>> = {
    white: {
      king: say("white king"),
      queen: say("white queen"),
      rook: say("white rook"),
      bishop: say("white bishop"),
      knight: say("white knight"),
      pawn: say("white pawn"),
    },
    black: {
      king: say("black king"),
      queen: say("black queen"),
      rook: say("black rook"),
      bishop: say("black bishop"),
      knight: say("black knight"),
      pawn: say("black pawn"),
    },
  };
  return names[side][unit];
}

/** What stands on a square, by its letter of FEN. */
export function squareNamed(square: string, letter: string | undefined): string {
  if (!letter) return say("{square}, empty", { square });
  const { unit, side } = unitOf(letter);
  return say("{square}, {unit}", { square, unit: unitNamed(unit, side) });
}
