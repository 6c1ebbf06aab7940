// Who played, where that is known.
import { say } from "../words/say.svelte";

/** Both players; a side without a name is told by its colour, and nothing is told of two. */
export function players(white: string, black: string): string {
  const known = (name: string) => name !== "" && name !== "?";
  if (!known(white) && !known(black)) return "";
  return say("{white} – {black}", {
    white: known(white) ? white : say("White"),
    black: known(black) ? black : say("Black"),
  });
}
