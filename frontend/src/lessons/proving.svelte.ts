// What is found of the claims of one position: asked a moment after a change, and kept by claim.
import { untrack } from "svelte";
import { api, ProblemError, told, type Schemas } from "../api/client";
import { language } from "../words/say.svelte";

export type Checked = Schemas["RowChecked"];
const PAUSE = 500; // milliseconds after the last change

export interface Proving {
  /** What was found of a claim; undefined while it is not. */
  of(claim: string): Checked | undefined;
  readonly waiting: boolean;
  readonly problem: ProblemError | undefined;
}

const RANKED = /^\s*(better ways|twin)\s*:/im;

/** Prove the claims of a block whenever it is another; what a claim was found to be stays. */
export function proving(block: () => { text: string; readable: boolean }): Proving {
  let found = $state.raw(new Map<string, Checked>());
  let waiting = $state(false);
  let problem = $state.raw<ProblemError>();
  let turn = 0;
  let place = "";

  async function ask(text: string, mine: number): Promise<void> {
    try {
      for (const better of RANKED.test(text) ? [false, true] : [false]) {
        const body = { text, better, language: language() };
        const rows = await told(api.POST("/api/lessons/checks", { body }));
        if (mine !== turn) return;
        found = new Map([...found, ...rows.map((row) => [row.text, row] as const)]);
      }
      problem = undefined;
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      if (mine === turn) problem = error;
    } finally {
      if (mine === turn) waiting = false;
    }
  }

  $effect(() => {
    const { text, readable } = block();
    const spoken = language();
    const mine = ++turn;
    const here = spoken + text.split("\n").slice(0, 3).join("\n");
    untrack(() => {
      // Of another position, or in another language, nothing that was found is worth keeping.
      if (here !== place) found = new Map();
      place = here;
      waiting = readable;
    });
    if (!readable) return;
    const timer = setTimeout(() => void ask(text, mine), PAUSE);
    return () => clearTimeout(timer);
  });

  return {
    of: (claim) => found.get(claim.trim()),
    get waiting() {
      return waiting;
    },
    get problem() {
      return problem;
    },
  };
}
