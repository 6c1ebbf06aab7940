// A line that is shown on the board step by step.
import { numeralsOf } from "./marks";

export interface Step {
  uci: string;
  name: string;
  spoken: string;
  fen: string;
}
export interface ToldLine {
  told: string;
  steps: readonly Step[];
}

const PACE = 1100; // milliseconds from one step to the next

/** A line as it is played: which one, and how many of its steps stand on the board. */
export class Playing {
  line = $state.raw<ToldLine>();
  shown = $state(0);
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** The step that was made last. */
  get step(): Step | undefined {
    return this.line?.steps[this.shown - 1];
  }

  /** The numbers of the steps made, by square. */
  get numerals(): Map<string, string> {
    return numeralsOf(this.line?.steps.map((one) => one.uci) ?? [], this.shown);
  }

  /** Begin a line; it goes on by itself unless the reader's system asks for no motion. */
  play(line: ToldLine): void {
    this.line = line;
    this.to(1);
    if (!matchMedia("(prefers-reduced-motion: reduce)").matches) this.#goOn();
  }

  /** Show so many steps, and stay there. */
  to(shown: number): void {
    clearTimeout(this.#timer);
    this.shown = Math.max(0, Math.min(shown, this.line?.steps.length ?? 0));
  }

  /** Put the position back. */
  end(): void {
    clearTimeout(this.#timer);
    this.line = undefined;
    this.shown = 0;
  }

  #goOn(): void {
    this.#timer = setTimeout(() => {
      if (!this.line || this.shown >= this.line.steps.length) return;
      this.shown += 1;
      this.#goOn();
    }, PACE);
  }
}
