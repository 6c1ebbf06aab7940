// A position as the board draws it: which unit stands where. The rules are the server's.

export type Side = "white" | "black";
export type UnitName = "king" | "queen" | "rook" | "bishop" | "knight" | "pawn";

/** A unit on a square; `id` stays its own while it moves, so that the drawing can follow it. */
export interface Placed {
  id: number;
  square: string;
  unit: UnitName;
  side: Side;
}

/** A position taken apart as FEN has it. */
export interface Fields {
  units: Map<string, string>;
  side: Side;
  castling: string;
  enPassant: string;
  halfMoves: number;
  move: number;
}

const NAMES: Record<string, UnitName> = {
  k: "king",
  q: "queen",
  r: "rook",
  b: "bishop",
  n: "knight",
  p: "pawn",
};
export const LETTERS = "kqrbnp";
export const EMPTY_FEN = "8/8/8/8/8/8/8/8 w - - 0 1";
export const START_FEN = "rnbqkbnr/pppppppp/8/8/8/8/PPPPPPPP/RNBQKBNR w KQkq - 0 1";

/** The unit and the side that a letter of FEN stands for. */
export function unitOf(letter: string): { unit: UnitName; side: Side } {
  const unit = NAMES[letter.toLowerCase()];
  if (!unit) throw new RangeError(`no unit has the letter "${letter}"`);
  return { unit, side: letter === letter.toLowerCase() ? "black" : "white" };
}

/** A FEN taken apart; what is missing at its end is as at the start of a game. */
export function readFen(fen: string): Fields {
  const [placement = "", side, castling, enPassant, half, move] = fen.trim().split(/\s+/);
  const units = new Map<string, string>();
  placement.split("/").forEach((row, index) => {
    let file = 0;
    for (const letter of row) {
      if (/\d/.test(letter)) file += Number(letter);
      else units.set("abcdefgh".charAt(file++) + String(8 - index), letter);
    }
  });
  return {
    units,
    side: side === "b" ? "black" : "white",
    castling: castling ?? "-",
    enPassant: enPassant ?? "-",
    halfMoves: Number(half ?? 0) || 0,
    move: Number(move ?? 1) || 1,
  };
}

/** The fields put together as FEN. */
export function writeFen(fields: Fields): string {
  const rows = [];
  for (let rank = 8; rank >= 1; rank--) {
    let row = "";
    let empty = 0;
    for (const file of "abcdefgh") {
      const letter = fields.units.get(file + String(rank));
      if (!letter) {
        empty += 1;
        continue;
      }
      row += (empty || "") + letter;
      empty = 0;
    }
    rows.push(row + (empty || ""));
  }
  const side = fields.side === "black" ? "b" : "w";
  return [rows.join("/"), side, fields.castling || "-", fields.enPassant || "-"]
    .concat(String(fields.halfMoves), String(fields.move))
    .join(" ");
}

let made = 0;

/**
 * The units of a position, each with the id it had in `before`: one that stays keeps it, and so
 * does one that went to another square. The order is that of the ids, which the drawing keeps.
 */
export function follow(before: readonly Placed[], fen: string): Placed[] {
  const units = readFen(fen).units;
  const wanted = new Map(units);
  const kept: Placed[] = [];
  const moved: Placed[] = [];
  for (const one of before) {
    const letter = wanted.get(one.square);
    if (letter && same(one, letter)) {
      kept.push(one);
      wanted.delete(one.square);
    } else moved.push(one);
  }
  for (const [square, letter] of wanted) {
    const found = moved.findIndex((one) => same(one, letter));
    const id = found < 0 ? ++made : moved.splice(found, 1)[0]!.id;
    kept.push({ id, square, ...unitOf(letter) });
  }
  return kept.sort((one, other) => one.id - other.id);
}

function same(one: Placed, letter: string): boolean {
  const { unit, side } = unitOf(letter);
  return one.unit === unit && one.side === side;
}
