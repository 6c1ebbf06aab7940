// The focus is never lost: where what had it goes away or is switched off, what stands nearest
// takes it, so that a reader by keys goes on from there.

let last: Element | null = null;
let around: Element[] = [];
// What took the focus for something that is switched off, until that is on again.
let lent: { from: HTMLElement; to: HTMLElement } | undefined;

function note(event: FocusEvent): void {
  if (!(event.target instanceof Element)) return;
  last = event.target;
  around = [];
  for (let one = last.parentElement; one && one !== document.body; one = one.parentElement) {
    around.push(one);
  }
}

function isLost(): boolean {
  const now = document.activeElement;
  return now === null || now === document.body || now.matches(":disabled");
}

function takeUp(): void {
  const now = document.activeElement;
  if (lent && now === lent.to && lent.from.isConnected && !lent.from.matches(":disabled")) {
    lent.from.focus({ preventScroll: true });
    lent = undefined;
    return;
  }
  if (!last || !isLost()) return;
  const near = around.find((one) => one.isConnected);
  if (!(near instanceof HTMLElement)) return;
  if (last instanceof HTMLElement && last.isConnected) lent = { from: last, to: near };
  if (!near.hasAttribute("tabindex")) near.tabIndex = -1;
  near.focus({ preventScroll: true });
}

/** Give the focus on whenever it would be lost; a press elsewhere by the mouse lets it go. */
export function keepFocus(): void {
  addEventListener("focusin", note);
  addEventListener("pointerdown", () => (last = null));
  new MutationObserver(takeUp).observe(document.body, {
    subtree: true,
    childList: true,
    attributes: true,
    attributeFilter: ["disabled"],
  });
}
