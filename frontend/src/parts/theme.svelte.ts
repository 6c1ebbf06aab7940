// Paper or slate: as the reader's system asks, unless chosen here.

export type Theme = "system" | "light" | "dark";
const KEPT = "fastness-theme";
const state = $state<{ theme: Theme }>({ theme: "system" });

export function theme(): Theme {
  return state.theme;
}

/** Put a theme on, and keep the choice in this browser. */
export function choose(theme: Theme): void {
  state.theme = theme;
  if (theme === "system") delete document.documentElement.dataset["theme"];
  else document.documentElement.dataset["theme"] = theme;
  try {
    localStorage.setItem(KEPT, theme);
  } catch {
    // A browser that keeps nothing is asked again next time.
  }
}

/** Put on what was chosen before. */
export function wearTheme(): void {
  let kept: string | null = null;
  try {
    kept = localStorage.getItem(KEPT);
  } catch {
    // As if nothing was chosen.
  }
  choose(kept === "light" || kept === "dark" ? kept : "system");
}
