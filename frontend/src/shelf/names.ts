// The words of the shelf's filter: levels, kinds of question, causes, ways, units, phases.
import type { paths } from "../api/schema";
import { say } from "../words/say.svelte";

export type Filter = NonNullable<paths["/api/shelf"]["get"]["parameters"]["query"]>;
type Values<Name extends keyof Filter> = NonNullable<Filter[Name]> extends (infer One)[] ? One : never;
type Named<One> = readonly { readonly value: One; readonly name: string }[];

export function levels(): Named<Values<"level">> {
  return [
    { value: "plain", name: say("plain") },
    { value: "club", name: say("club") },
    { value: "stretch", name: say("stretch") },
  ];
}

export function kinds(): Named<Values<"kind">> {
  return [
    { value: "which unit", name: say("which is not safe") },
    { value: "every move", name: say("every move that keeps it") },
    { value: "better way", name: say("which is best") },
    { value: "why it fails", name: say("why a move fails") },
    { value: "is it safe", name: say("is a move safe") },
  ];
}

export function causes(): Named<Values<"mechanism">> {
  return [
    { value: "unguarded", name: say("unguarded") },
    { value: "less valuable attacker", name: say("less valuable attacker") },
    { value: "outnumbered", name: say("outnumbered") },
    { value: "pinned guard", name: say("pinned guard") },
    { value: "overloaded guard", name: say("overloaded guard") },
    { value: "removal of the guard", name: say("removal of the guard") },
    { value: "fork", name: say("fork") },
    { value: "pin", name: say("pin") },
    { value: "skewer", name: say("skewer") },
    { value: "discovered attack", name: say("discovered attack") },
    { value: "discovered check", name: say("discovered check") },
    { value: "double check", name: say("double check") },
    { value: "trapped", name: say("trapped") },
    { value: "back rank", name: say("back rank") },
    { value: "mate threat", name: say("mate threat") },
    { value: "promotion", name: say("promotion") },
    { value: "interference", name: say("interference") },
    { value: "in-between move", name: say("in-between move") },
    { value: "desperado", name: say("desperado") },
  ];
}

export function ways(): Named<Values<"way">> {
  return [
    { value: "move", name: say("move away") },
    { value: "guard", name: say("guard") },
    { value: "block", name: say("block") },
    { value: "capture", name: say("capture") },
    { value: "counterattack", name: say("counterattack") },
  ];
}

export function units(): Named<Values<"unit">> {
  return [
    { value: "queen", name: say("queen") },
    { value: "rook", name: say("rook") },
    { value: "bishop", name: say("bishop") },
    { value: "knight", name: say("knight") },
    { value: "pawn", name: say("pawn") },
    { value: "king", name: say("king") },
  ];
}

export function phases(): Named<Values<"phase">> {
  return [
    { value: "opening", name: say("opening") },
    { value: "middlegame", name: say("middlegame") },
    { value: "endgame", name: say("endgame") },
  ];
}

/** A value by its name, or as it stands where it has none here. */
export function named(list: Named<string>, value: string): string {
  return list.find((one) => one.value === value)?.name ?? value;
}
