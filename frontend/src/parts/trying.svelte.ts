// Something the reader does that may go wrong: the problem is kept, and told beside it.
import { ProblemError } from "../api/client";

export class Trying {
  problem = $state.raw<ProblemError>();
  busy = $state(false);

  /** Do it; what was wrong is kept in `problem`. */
  async now(what: () => Promise<void>): Promise<void> {
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
