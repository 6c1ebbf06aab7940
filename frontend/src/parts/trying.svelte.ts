// Something the reader does that may go wrong: the problem is kept, and told beside it.
import { ProblemError } from "../api/client";

export class Trying {
  problem = $state.raw<ProblemError>();
  /** Buttons that begin it tell so (aria-disabled), and keep the focus. */
  busy = $state(false);

  /** Do it; what was wrong is kept in `problem`. While something is done, nothing else is begun. */
  async now(what: () => Promise<void>): Promise<void> {
    if (this.busy) return;
    this.problem = undefined;
    this.busy = true;
    try {
      await what();
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      this.problem = error;
    } finally {
      this.busy = false;
    }
  }
}
