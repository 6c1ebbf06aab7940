// The exercises taken for the next sheet, in order; kept in this browser's tab.

const KEPT = "fastness-sheet";

function kept(): number[] {
  try {
    const numbers: unknown = JSON.parse(sessionStorage.getItem(KEPT) ?? "[]");
    return Array.isArray(numbers) ? numbers.filter((one) => Number.isInteger(one)) : [];
  } catch {
    return [];
  }
}

const state = $state<{ numbers: number[] }>({ numbers: kept() });

export function taken(): readonly number[] {
  return state.numbers;
}

export function takeAll(numbers: readonly number[]): void {
  state.numbers = [...new Set(numbers)];
  try {
    sessionStorage.setItem(KEPT, JSON.stringify(state.numbers));
  } catch {
    // They are taken until the page is left.
  }
}

export function take(number: number, wanted: boolean): void {
  const others = state.numbers.filter((one) => one !== number);
  takeAll(wanted ? [...others, number] : others);
}
