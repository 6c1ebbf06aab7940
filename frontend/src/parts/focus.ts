// The focus is never lost: where what had it goes away or is switched off, what stands nearest
// takes it, so that a reader by keys goes on from there.

let last: Element | null = null;
let around: Element[] = [];

function note(event: FocusEvent): void {
  if (!(event.target instanceof Element)) return;
  last = event.target;
  around = [];
  for (let one = last.parentElement; one && one !== document.body; one = one.parentElement) {
    around.push(one);
  }
}

function isLost(): boolean {
  return document.activeElement === null || document.activeElement === document.body;
}

function takeUp(): void {
  if (!last || !isLost()) return;
  if (last.isConnected) {
    // A button that was switched off while something was done takes it again.
    if (last instanceof HTMLElement && !last.matches(":disabled")) last.focus({ preventScroll: true });
    return;
  }
  const near = around.find((one) => one.isConnected);
  if (!(near instanceof HTMLElement)) return;
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
