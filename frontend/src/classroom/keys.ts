// The commands of the teacher's page: each with its keys, and whether it can be made now.
import { say } from "../words/say.svelte";
import type { ClassTold, Desk } from "./desk.svelte";
import type { Orders } from "./orders";

export interface Command {
  id: string;
  keys: readonly string[];
  /** The key as it stands on the page. */
  key: string;
  name: string;
  /** Whether it can be made now. */
  now: boolean;
  run: () => void;
}

export interface Group {
  name: string;
  commands: Command[];
}

/** What the page itself does, besides what the server does. */
export interface OnPage {
  typeMove: () => void;
  playOut: () => void;
}

/** The key of an event as the commands name it; undefined where a command is not meant. */
export function keyOf(event: KeyboardEvent): string | undefined {
  if (event.ctrlKey || event.altKey || event.metaKey) return undefined;
  const target = event.target instanceof Element ? event.target : undefined;
  if (target?.closest("input:not([type=checkbox]), textarea, select")) return undefined;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  // The arrows lead over the board that has the focus.
  if (key.startsWith("Arrow") && target?.closest("[role=grid]")) return undefined;
  return key === "=" ? "+" : key;
}

/** The command that a key stands for, if it can be made now. */
export function commandFor(groups: readonly Group[], key: string): Command | undefined {
  const all = groups.flatMap((group) => group.commands);
  return all.find((command) => command.now && command.keys.includes(key));
}

/** Whether a key stands for any command, be it possible now or not. */
export function isKey(groups: readonly Group[], key: string): boolean {
  return groups.some((group) => group.commands.some((command) => command.keys.includes(key)));
}

function beside(now: ClassTold, by: -1 | 1): number | undefined {
  const at = now.positions.findIndex((one) => one.number === now.now.number);
  return now.positions[at + by]?.number;
}

/** All commands as they are now. */
export function commandsOf(desk: Desk, orders: Orders, page: OnPage): Group[] {
  const now = desk.told;
  const chosen = desk.chosen;
  const shown = now?.shown;
  const steps = shown?.line?.steps.length ?? 0;
  const playing = shown?.what === "play";
  const number = chosen?.number ?? 0;

  function command(
    id: string,
    key: string,
    name: string,
    can: boolean,
    run: () => void,
    ...more: string[]
  ): Command {
    return { id, key, keys: [key.length === 1 ? key.toLowerCase() : key, ...more], name, now: can, run };
  }
  const order = (make: (now: ClassTold) => Promise<ClassTold> | undefined) => () =>
    void desk.do(make);
  const step = (by: -1 | 1) => order((told) => orders.step(told.shown.step + by));
  const leaf = (by: -1 | 1) =>
    order((told) => {
      const to = beside(told, by);
      return to === undefined ? undefined : orders.goTo(to);
    });

  return [
    {
      name: say("Tries"),
      commands: [
        command("type", "T", say("Type a move"), true, page.typeMove),
        command("earlier", "ArrowUp", say("The try above"), !!chosen, () => desk.chooseBeside(-1)),
        command("later", "ArrowDown", say("The try below"), !!chosen, () => desk.chooseBeside(1)),
        command("more", "+", say("One hand more"), !!chosen, order(() => orders.hands(number, 1))),
        command("fewer", "-", say("One hand fewer"), !!chosen?.hands, order(() => orders.hands(number, -1))),
        command("out", "Delete", say("Take the try out"), !!chosen, order(() => orders.takeOut(number))),
      ],
    },
    {
      name: say("Show the class"),
      commands: [
        command("verdict", "V", say("The try with its verdict"), !!chosen, order(() => orders.show("try", number))),
        command("move", "M", say("The try alone"), !!chosen, order(() => orders.show("try", number, false))),
        command("clean", "P", say("The position alone: try again"), shown?.what !== "position", order(() => orders.show("position"))),
        command("marks", "S", say("What is not safe"), true, order(() => orders.show("marks"))),
        command("side", "W", say("Who is to move"), true, order(() => orders.show("side"))),
        command("answer", "A", shown?.what === "answer" ? say("The next answer") : say("The answer"), true, order(() => orders.show("answer"))),
        command("sentence", "X", shown?.said ? say("Hide the sentence") : say("Show the sentence"), !!shown?.told, order((told) => orders.say(!told.shown.said))),
      ],
    },
    {
      name: say("The line"),
      commands: [
        command("on", "ArrowRight", say("A move on"), (shown?.step ?? 0) < steps, step(1), "PageDown"),
        command("back", "ArrowLeft", say("A move back"), (shown?.step ?? 0) > 0, step(-1), "PageUp"),
        command("playout", "R", say("Play it out"), (shown?.step ?? 0) < steps, page.playOut),
        command("playon", "O", say("Let a student play on"), chosen?.holds === false, order(() => orders.playOn(number))),
        command("takeback", "U", say("Take the student’s move back"), playing && (now?.now.play?.line.steps.length ?? 0) > (now?.now.play?.begun ?? 0), order(() => orders.takeBack())),
      ],
    },
    {
      name: say("Positions and screen"),
      commands: [
        command("next", "N", say("The next position"), !!now && beside(now, 1) !== undefined, leaf(1)),
        command("before", "B", say("The position before"), !!now && beside(now, -1) !== undefined, leaf(-1)),
        command("turn", "F", say("Turn the board"), true, order((told) => orders.screen({ turned: !told.turned }))),
        command("slate", "L", now?.sees.theme === "dark" ? say("Paper on the class’s screen") : say("Slate on the class’s screen"), true, order((told) => orders.screen({ theme: told.sees.theme === "dark" ? "light" : "dark" }))),
        command("language", "G", now?.sees.language === "de" ? say("English on the class’s screen") : say("German on the class’s screen"), true, order((told) => orders.screen({ language: told.sees.language === "de" ? "en" : "de" }))),
      ],
    },
  ];
}

/** A key as it is drawn. */
export function keyShown(key: string): string {
  const drawn: Record<string, string> = {
    ArrowUp: "↑",
    ArrowDown: "↓",
    ArrowLeft: "←",
    ArrowRight: "→",
    "-": "−",
    Delete: say("Del"),
  };
  return drawn[key] ?? key;
}
