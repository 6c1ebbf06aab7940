// Texts for people. English is the source; the others come from the catalogues beside this file,
// which `make words` brings up to date, and are fetched when they are chosen.

export type LanguageName = "en" | "de";
type Texts = Record<string, string | string[]>;
type Values = Record<string, string | number>;

const KEPT = "fastness-language";
const CATALOGUES: Record<Exclude<LanguageName, "en">, () => Promise<{ default: Texts }>> = {
  de: () => import("./de.json"),
};

const state = $state<{ name: LanguageName; texts: Texts }>({ name: "en", texts: {} });

/** The language of the texts, also of those that the server writes. */
export function language(): LanguageName {
  return state.name;
}

/** A text in the language, with values in the places that are named in braces. */
export function say(text: string, values: Values = {}): string {
  const said = state.texts[text];
  return filled(typeof said === "string" ? said : text, values);
}

/** A text that depends on a number: the first form for one, the second for others. */
export function sayMany(one: string, many: string, number: number, values: Values = {}): string {
  const forms = state.texts[one];
  const [single, several] = Array.isArray(forms) ? forms : [one, many];
  return filled((number === 1 ? single : several) ?? many, { number, ...values });
}

function filled(text: string, values: Values): string {
  return text.replace(/\{(\w+)\}/g, (whole, name: string) => String(values[name] ?? whole));
}

/** Choose a language, and keep the choice in this browser unless it is for a page alone. */
export async function speak(name: LanguageName, kept = true): Promise<void> {
  state.texts = name === "en" ? {} : (await CATALOGUES[name]()).default;
  state.name = name;
  document.documentElement.lang = name;
  if (!kept) return;
  try {
    localStorage.setItem(KEPT, name);
  } catch {
    // A browser that keeps nothing is asked again next time.
  }
}

/** The language chosen before, or else the first known one that the browser asks for. */
export function preferred(): LanguageName {
  let kept: string | null = null;
  try {
    kept = localStorage.getItem(KEPT);
  } catch {
    // As if nothing was chosen.
  }
  const wanted = [kept ?? "", ...navigator.languages].map((one) => one.slice(0, 2));
  return wanted.find((one): one is LanguageName => one === "en" || one === "de") ?? "en";
}
