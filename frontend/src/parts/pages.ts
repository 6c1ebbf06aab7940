// The pages by their paths. Each is fetched when it is first gone to.
import type { Component } from "svelte";

export interface Match {
  load: () => Promise<{ default: Component<Record<string, string>> }>;
  values: Record<string, string>;
}

type Load = () => Promise<{ default: Component<never> }>;

const PAGES: readonly (readonly [path: string, load: Load])[] = [
  ["/", () => import("../pages/Contents.svelte")],
  ["/position", () => import("../pages/PositionOrInput.svelte")],
  ["/position/set-up", () => import("../pages/SetUp.svelte")],
  ["/pasted/:upload", () => import("../pages/Pasted.svelte")],
  ["/games", () => import("../pages/Games.svelte")],
  ["/games/list", () => import("../pages/GameList.svelte")],
  ["/games/bring", () => import("../pages/Bring.svelte")],
  ["/games/bring/:upload", () => import("../pages/Bring.svelte")],
  ["/games/:number", () => import("../pages/Game.svelte")],
  ["/students", () => import("../pages/Students.svelte")],
  ["/students/:number", () => import("../pages/Student.svelte")],
  ["/groups/:number", () => import("../pages/Group.svelte")],
  ["/exercises", () => import("../pages/Exercises.svelte")],
  ["/exercises/:number", () => import("../pages/Exercise.svelte")],
  ["/sheet", () => import("../pages/SheetBuild.svelte")],
  ["/week", () => import("../pages/Weeks.svelte")],
  ["/week/:number", () => import("../pages/Week.svelte")],
  ["/lessons", () => import("../pages/Lessons.svelte")],
  ["/lessons/:name", () => import("../pages/Lesson.svelte")],
  ["/homework", () => import("../pages/Homeworks.svelte")],
  ["/homework/:number", () => import("../pages/Homework.svelte")],
  ["/h/:word", () => import("../pages/OwnHomework.svelte")],
  ["/reply", () => import("../pages/Reply.svelte")],
  ["/class", () => import("../pages/Classes.svelte")],
  ["/class/:number", () => import("../pages/Class.svelte")],
  ["/b/:word", () => import("../pages/ClassBoard.svelte")],
  ["/store", () => import("../pages/Store.svelte")],
  ["/s/:word", () => import("../pages/SharedReport.svelte")],
];

/** The page at a path, with the values in it; undefined where there is none. */
export function pageAt(path: string): Match | undefined {
  const parts = path.replace(/\/+$/, "").split("/");
  for (const [pattern, load] of PAGES) {
    const wanted = pattern.replace(/\/+$/, "").split("/");
    if (wanted.length !== parts.length) continue;
    const values: Record<string, string> = {};
    const fits = wanted.every((part, index) => {
      const given = decodeURIComponent(parts[index] ?? "");
      if (part.startsWith(":")) values[part.slice(1)] = given;
      return part.startsWith(":") ? given !== "" : part === given;
    });
    if (fits) return { load: load as Match["load"], values };
  }
  return undefined;
}
