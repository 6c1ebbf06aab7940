// The ways in which a move keeps the material, in the order of the page, and their names.
import type { Schemas } from "../api/client";
import { say } from "../words/say.svelte";

export type KeepingMove = Schemas["KeepingMove"];
export type Way = KeepingMove["ways"][number];

/** A way's name as the head of a row. */
export function wayNamed(way: Way): string {
  const names: Record<Way, string> = {
    move: say("Move away"),
    guard: say("Guard"),
    block: say("Block"),
    capture: say("Capture"),
    counterattack: say("Counterattack"),
    other: say("Another way"),
  };
  return names[way];
}

/** The moves by their main way, in the order in which they were told; the better ones first. */
export function byWay(keeping: readonly KeepingMove[]): [Way, KeepingMove[]][] {
  const rows = new Map<Way, KeepingMove[]>();
  for (const move of keeping) {
    const way = move.ways[0] ?? "other";
    rows.set(way, [...(rows.get(way) ?? []), move]);
  }
  return [...rows];
}

/** The headline: what is said of the unit that is most in danger, or of what can be taken. */
export function headline(reading: Schemas["Reading"]): string {
  const entries = reading.takings_first
    ? [...reading.takings, ...reading.dangers]
    : [...reading.dangers, ...reading.takings];
  const squares = reading.takings_first ? reading.can_be_taken : reading.ringed;
  const on = entries.find((entry) => squares.some((one) => clause(entry.told).includes(one)));
  return `${clause((on ?? entries[0])?.told ?? reading.head)}.`;
}

/** The first clause of a text, without its end. */
function clause(text: string): string {
  return /^.*?(?=[:.;](\s|$))/.exec(text)?.[0] ?? text;
}
