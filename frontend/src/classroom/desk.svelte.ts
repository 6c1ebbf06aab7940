// The teacher's side of a class board: the session as it is, and one command after another.
import { ProblemError, type Schemas } from "../api/client";

export type ClassTold = Schemas["ClassTold"];
export type Try = Schemas["TryTold"];
type Asked = Promise<ClassTold> | undefined;

export class Desk {
  told = $state.raw<ClassTold>();
  problem = $state.raw<ProblemError>();
  busy = $state(false);
  #chosen = $state<number>();
  #waiting = 0;
  #last: Promise<void> = Promise.resolve();

  /** The try that commands are about: the one chosen, or else the one entered last. */
  get chosen(): Try | undefined {
    const tries = this.told?.now.tries ?? [];
    return tries.find((one) => one.number === this.#chosen) ?? tries.at(-1);
  }

  choose(number: number): void {
    this.#chosen = number;
  }

  /** Choose the try before or after the one chosen; at the ends it stays. */
  chooseBeside(by: -1 | 1): void {
    const tries = this.told?.now.tries ?? [];
    const at = tries.findIndex((one) => one.number === this.chosen?.number);
    const next = tries[at + by];
    if (next) this.#chosen = next.number;
  }

  /** What was heard of the session. */
  put(told: ClassTold): void {
    this.told = told;
  }

  /**
   * A command, made after those before it from the session as it is then; undefined makes none.
   * What was wrong is kept in `problem`.
   */
  do(command: (now: ClassTold) => Asked): Promise<void> {
    this.#waiting += 1;
    this.busy = true;
    this.#last = this.#last.then(() => this.#make(command));
    return this.#last;
  }

  /** When all commands given so far are made. */
  settled(): Promise<void> {
    return this.#last;
  }

  async #make(command: (now: ClassTold) => Asked): Promise<void> {
    try {
      const asked = this.told && command(this.told);
      if (asked) {
        this.told = await asked;
        this.problem = undefined;
      }
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      this.problem = error;
    } finally {
      this.#waiting -= 1;
      this.busy = this.#waiting > 0;
    }
  }
}
