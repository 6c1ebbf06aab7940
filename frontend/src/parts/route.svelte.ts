// Which page is shown: the path and the query of the address, changed without loading anew.

const here = $state({ path: location.pathname, query: location.search });

/** The path of the page, without its query. */
export function path(): string {
  return here.path;
}

/** A value of the query; empty where it is not there. */
export function asked(name: string): string {
  return new URLSearchParams(here.query).get(name) ?? "";
}

/** An address with a query of those values that are not empty. */
export function address(to: string, query: Record<string, string | number | undefined>): string {
  const values = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) {
    if (value !== undefined && value !== "") values.set(name, String(value));
  }
  const text = values.toString();
  return text ? `${to}?${text}` : to;
}

function look(): void {
  here.path = location.pathname;
  here.query = location.search;
}

/** Go to another page; with `replace` the way back does not lead here. */
export function go(to: string, replace = false): void {
  if (replace) history.replaceState(null, "", to);
  else history.pushState(null, "", to);
  const before = here.path;
  look();
  if (here.path !== before) scrollTo(0, 0);
}

/** Let links within the workbench, and the browser's own way back, change the page. */
export function followLinks(): void {
  addEventListener("popstate", look);
  addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest("a") : null;
    const plain = event.button === 0 && !event.ctrlKey && !event.metaKey && !event.shiftKey;
    if (!link || !plain || link.target || link.download || event.defaultPrevented) return;
    if (link.origin !== location.origin || link.pathname.startsWith("/api/")) return;
    if (link.hash && link.pathname === location.pathname) return;
    event.preventDefault();
    go(link.pathname + link.search);
  });
}
