// Where a position of the class board is from, in words.
import type { Schemas } from "../api/client";
import { say } from "../words/say.svelte";

export function placeNamed({ origin, of }: Pick<Schemas["PositionNow"], "origin" | "of">): string {
  const names: Record<typeof origin, string> = {
    own: "",
    week: say("No. {number} of the week", { number: of }),
    twin: say("the twin of No. {number} of the week", { number: of }),
    exercise: say("exercise {number}", { number: of }),
  };
  return names[origin];
}
