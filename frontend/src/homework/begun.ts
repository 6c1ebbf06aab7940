// What was typed into the form for new homework, kept in this browser's tab until it is handed out.

export interface Begun {
  title: string;
  /** "group:NAME" or "student:NAME". */
  whom: string;
  /** "lesson:NAME", "week:ID" or "shelf:". */
  from: string;
  due: string;
  level: "plain" | "club" | "stretch";
}

const KEPT = "fastness-homework";

/** What was begun before; nothing where there is none, or where it cannot be read. */
export function begun(): Partial<Begun> {
  try {
    return JSON.parse(sessionStorage.getItem(KEPT) ?? "{}") as Partial<Begun>;
  } catch {
    return {};
  }
}

/** Keeps what is begun; without it forgets it. */
export function keepBegun(now?: Begun): void {
  try {
    if (now) sessionStorage.setItem(KEPT, JSON.stringify(now));
    else sessionStorage.removeItem(KEPT);
  } catch {
    // It stays until the page is left.
  }
}
