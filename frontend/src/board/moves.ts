// Legal moves as the server lists them: picked on the board, or typed.

export interface LegalMove {
  uci: string;
  name: string;
  spoken: string;
}

/** The squares that the unit on a square may go to, each with its moves: several for a promotion. */
export function targetsFrom(moves: readonly LegalMove[], from: string): Map<string, LegalMove[]> {
  const targets = new Map<string, LegalMove[]>();
  for (const move of moves) {
    if (!move.uci.startsWith(from)) continue;
    const to = move.uci.slice(2, 4);
    targets.set(to, [...(targets.get(to) ?? []), move]);
  }
  return targets;
}

/** The move meant by what was typed: its name with or without its signs, or its squares. */
export function typedMove(moves: readonly LegalMove[], text: string): LegalMove | undefined {
  const typed = bare(text);
  if (!typed) return undefined;
  const exactly = moves.filter((move) => bare(move.name) === typed || move.uci === typed);
  if (exactly.length) return exactly[0];
  const small = typed.toLowerCase();
  const nearly = moves.filter(
    (move) => bare(move.name).toLowerCase() === small || move.uci === small,
  );
  return nearly.length === 1 ? nearly[0] : undefined;
}

function bare(name: string): string {
  return name
    .trim()
    .replace(/^\d+\s*\.+\s*/, "")
    .replace(/[\s+#x:=!?-]/g, "")
    .replace(/^00(0?)$/, "OO$1")
    .replace(/^oo(o?)$/i, (found) => found.toUpperCase());
}
