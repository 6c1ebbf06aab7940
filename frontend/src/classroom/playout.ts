// A line played out on the class's screen, step by step.
import type { Desk } from "./desk.svelte";
import type { Orders } from "./orders";

export const PACE = 1400; // milliseconds from one step to the next

let timer: ReturnType<typeof setTimeout> | undefined;

/** Whether the line shown is still the one that is played out, one step further than before. */
function goesOn(desk: Desk, line: string, step: number): boolean {
  const shown = desk.told?.shown;
  return shown?.line?.told === line && shown.step === step && step < shown.line.steps.length;
}

/**
 * Play the line shown to its end; any other command ends it. Where the reader's system asks for no
 * motion, the end is shown at once.
 */
export function playOut(desk: Desk, orders: Orders): void {
  clearTimeout(timer);
  const line = desk.told?.shown.line;
  if (!line) return;
  if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
    void desk.do(() => orders.step(line.steps.length));
    return;
  }
  const onward = (step: number): void => {
    if (!goesOn(desk, line.told, step)) return;
    void desk
      .do(() => orders.step(step + 1))
      .then(() => (timer = setTimeout(() => onward(step + 1), PACE)));
  };
  onward(desk.told?.shown.step ?? 0);
}
