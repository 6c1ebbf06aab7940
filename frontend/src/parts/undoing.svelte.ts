// The last removal, which can be undone: what was done in words, and how it is put back.

export interface Done {
  told: string;
  undo: () => Promise<void>;
}

let last = $state.raw<Done>();

/** What was done last and can be undone. */
export function lastDone(): Done | undefined {
  return last;
}

/** Say what was done, and offer to undo it. */
export function done(told: string, undo: () => Promise<void>): void {
  last = { told, undo };
}

export function forget(): void {
  last = undefined;
}
