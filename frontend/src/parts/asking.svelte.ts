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
  const state = $state<{ data?: Data; problem?: ProblemError; waiting: boolean }>({
    waiting: true,
  });
  let turn = 0;

  async function take(asked: Promise<Data> | undefined): Promise<void> {
    const mine = ++turn;
    state.waiting = asked !== undefined;
    if (!asked) {
      delete state.data;
      delete state.problem;
      return;
    }
    try {
      const data = await asked;
      if (mine !== turn) return;
      state.data = data;
      delete state.problem;
    } catch (error) {
      if (mine !== turn) return;
      if (!(error instanceof ProblemError)) throw error;
      state.problem = error;
      delete state.data;
    } finally {
      if (mine === turn) state.waiting = false;
    }
  }

  $effect(() => {
    const asked = ask();
    untrack(() => void take(asked));
  });

  return {
    get data() {
      return state.data;
    },
    get problem() {
      return state.problem;
    },
    get waiting() {
      return state.waiting;
    },
    again: () => take(ask()),
    put: (data) => (state.data = data),
  };
}
