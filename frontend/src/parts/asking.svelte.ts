// Something asked of the server for a page: waited for, there, or wrong; asked again when told to.
import { untrack } from "svelte";
import { ProblemError } from "../api/client";

export interface Asking<Data> {
  readonly data: Data | undefined;
  readonly problem: ProblemError | undefined;
  readonly waiting: boolean;
  again(): Promise<void>;
  put(data: Data): void;
}

/**
 * Ask when the page is shown, and again when what `ask` reads changes; undefined asks for nothing.
 * The answer before stays until the next is there.
 */
export function asking<Data>(ask: () => Promise<Data> | undefined): Asking<Data> {
  let data = $state.raw<Data>();
  let problem = $state.raw<ProblemError>();
  let waiting = $state(true);
  let turn = 0;

  async function take(asked: Promise<Data> | undefined): Promise<void> {
    const mine = ++turn;
    waiting = asked !== undefined;
    try {
      const answer = await asked;
      if (mine !== turn) return;
      data = answer;
      problem = undefined;
    } catch (error) {
      if (mine !== turn) return;
      if (!(error instanceof ProblemError)) throw error;
      problem = error;
      data = undefined;
    } finally {
      if (mine === turn) waiting = false;
    }
  }

  $effect(() => {
    const asked = ask();
    untrack(() => void take(asked));
  });

  return {
    get data() {
      return data;
    },
    get problem() {
      return problem;
    },
    get waiting() {
      return waiting;
    },
    again: () => take(ask()),
    put: (told) => (data = told),
  };
}
