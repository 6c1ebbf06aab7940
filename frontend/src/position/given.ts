// What was pasted: a position as FEN or EPD, or games as PGN.

export type Given = { kind: "nothing" } | { kind: "position"; fen: string } | { kind: "games" };

const PLACEMENT = /^([1-8kqrbnp]+\/){7}[1-8kqrbnp]+(\s|$)/i;

/** Whether a text is a position or games; the server judges the rest. */
export function readGiven(text: string): Given {
  const bare = text.trim();
  if (!bare) return { kind: "nothing" };
  if (PLACEMENT.test(bare)) return { kind: "position", fen: bare.split("\n")[0]!.trim() };
  return { kind: "games" };
}
