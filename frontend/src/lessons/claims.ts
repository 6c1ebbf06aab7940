// Claims as they are written in a lesson, and the rows of a position block that hold them.
import { say } from "../words/say.svelte";

/** What a claim says, by its word in the file. */
export type Kind =
  | "unsafe"
  | "safe"
  | "holds"
  | "falls"
  | "only"
  | "these are all"
  | "better ways"
  | "danger"
  | "mechanism"
  | "line"
  | "twin";

/** How a claim is given: by squares, by moves tried one by one, by moves that follow, otherwise. */
export type Given = "squares" | "moves" | "sequence" | "other";

export const KINDS: Record<Kind, Given> = {
  unsafe: "squares",
  safe: "squares",
  holds: "moves",
  falls: "sequence",
  only: "moves",
  "these are all": "moves",
  "better ways": "moves",
  danger: "other",
  mechanism: "squares",
  line: "sequence",
  twin: "other",
};

/** A kind of claim in words for people. */
export function kindInWords(kind: Kind): string {
  const words: Record<Kind, string> = {
    unsafe: say("is not safe"),
    safe: say("is safe"),
    holds: say("keeps the material"),
    falls: say("loses, because …"),
    only: say("the only move"),
    "these are all": say("these are all that keep it"),
    "better ways": say("the better ways"),
    danger: say("how much is in danger"),
    mechanism: say("why it can be won"),
    line: say("a line"),
    twin: say("a twin: change one thing"),
  };
  return words[kind];
}

/** What the form has so far. */
export interface Filled {
  squares: readonly string[];
  /** Moves in English SAN. */
  moves: readonly string[];
  passes: boolean;
  /** Pawns' worth, "mate", "none" or nothing. */
  worth: string;
  /** How the better ways work; empty where nothing is said of it. */
  way: string;
  mechanism: string;
  fen: string;
  move: string;
}

/** The claim as it is written; empty where something is missing. */
export function written(kind: Kind, filled: Filled): string {
  const { squares, moves } = filled;
  const worth = filled.worth.trim().replace(",", ".");
  switch (kind) {
    case "unsafe":
    case "safe":
      return squares.length ? `${kind}: ${squares.join(", ")}` : "";
    case "mechanism":
      return squares.length === 1 ? `mechanism: ${squares[0]!} ${filled.mechanism}` : "";
    case "holds":
    case "these are all":
      return moves.length ? `${kind}: ${moves.join(", ")}` : "";
    case "better ways": {
      const way = filled.way ? ` (${filled.way})` : "";
      return moves.length ? `better ways: ${moves.map((one) => one + way).join(", ")}` : "";
    }
    case "only":
      return moves.length === 1 ? `only: ${moves[0]!}` : "";
    case "falls": {
      const [first, ...rest] = moves;
      if (!first) return "";
      return `falls: ${first}${rest.length ? ` because ${rest.join(" ")}` : ""}`;
    }
    case "danger":
      return worth ? `danger: ${worth}` : "";
    case "line": {
      if (!moves.length) return "";
      const end = worth === "mate" ? " mate" : worth && worth !== "none" ? ` wins ${worth}` : "";
      return `line: ${filled.passes ? "pass " : ""}${moves.join(" ")}${end}`;
    }
    case "twin":
      return filled.fen.trim() && filled.move.trim()
        ? `twin: ${filled.fen.trim()} better ${filled.move.trim()}`
        : "";
  }
}

/** A block with another text in one of its rows (from 1); an empty text takes the row out. */
export function withRow(block: string, row: number, text: string): string {
  const rows = block.split("\n");
  const before = rows[row - 1] ?? "";
  if (text.trim()) rows[row - 1] = text + (before.endsWith("\r") ? "\r" : "");
  else rows.splice(row - 1, 1);
  return rows.join("\n");
}

/** A block with one claim more, before the fence that closes it. */
export function withClaim(block: string, claim: string): string {
  const rows = block.split("\n");
  const last = rows.findLastIndex((row) => /^\s*(`{3,}|~{3,})\s*$/.test(row));
  const at = last > 0 ? last : rows.length;
  const ending = rows[0]?.endsWith("\r") ? "\r" : "";
  rows.splice(at, 0, claim + ending);
  return rows.join("\n");
}

/** What was typed into a text area, with the ends of lines that the text had before. */
export function asBefore(before: string, typed: string): string {
  return before.includes("\r\n") ? typed.replace(/\r?\n/g, "\r\n") : typed;
}

/** A new block for a position given as FEN, or by moves from the usual start. */
export function blockOf(given: string): string {
  const text = given.trim();
  const fen = text.split(/\s+/)[0]?.split("/").length === 8;
  return `\n\`\`\`position\n${fen ? text : `moves: ${text.replace(/\s+/g, " ")}`}\n\`\`\`\n\n`;
}
