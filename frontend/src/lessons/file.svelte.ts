// A lesson while it is worked on: its parts as typed, kept in the file a moment after each change.
import { api, ProblemError, told, type Schemas } from "../api/client";
import { withClaim, withRow } from "./claims";

export type Part = Schemas["Part"];
/** A part with a number of its own, so that the page knows it again when others come and go. */
export interface Piece extends Part {
  id: number;
}

const PAUSE = 800; // milliseconds after the last key until the file is written
let made = 0;

function pieces(parts: readonly Part[], before: readonly Piece[] = []): Piece[] {
  return parts.map((part, index) => ({ ...part, id: before[index]?.id ?? ++made }));
}

function prose(text: string): Piece {
  return { id: ++made, kind: "prose", text, place: null, rows: [], faults: [] };
}

export class LessonFile {
  pieces = $state.raw<Piece[]>([]);
  version = $state("");
  /** What is typed is not in the file yet. */
  unsaved = $state(false);
  problem = $state.raw<ProblemError>();
  /** The file was changed by something else; nothing is written until the teacher says so. */
  elsewhere = $state(false);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #turn: Promise<void> = Promise.resolve();
  #changes = 0;

  constructor(public name: string) {}

  /** The whole text as it is now. */
  get text(): string {
    return this.pieces.map((one) => one.text).join("");
  }

  async open(): Promise<void> {
    const params = { path: { name: this.name } };
    this.#take(await told(api.GET("/api/lessons/{name}", { params })));
    this.unsaved = this.elsewhere = false;
    this.problem = undefined;
  }

  #take(here: Schemas["LessonHere"]): void {
    this.version = here.version;
    this.pieces = pieces(here.parts, this.#same(here.parts) ? this.pieces : []);
  }

  #same(parts: readonly Part[]): boolean {
    return (
      parts.length === this.pieces.length &&
      parts.every((part, index) => part.kind === this.pieces[index]?.kind)
    );
  }

  /** Another text for a part; the rest stays as it is, byte by byte. */
  change(id: number, text: string): void {
    this.#put(id, { text });
    this.#changed();
  }

  /** Another text of a claim in a row of a block; an empty one takes the row out. */
  changeClaim(id: number, row: number, text: string): void {
    const piece = this.pieces.find((one) => one.id === id);
    if (!piece) return;
    const rows = text.trim()
      ? piece.rows
      : piece.rows
          .filter((one) => one.line !== row)
          .map((one) => (one.line > row ? { ...one, line: one.line - 1 } : one));
    this.#put(id, { text: withRow(piece.text, row, text), rows });
    this.#changed(text.trim() ? PAUSE : 0);
  }

  /** One claim more. */
  addClaim(id: number, claim: string): void {
    const piece = this.pieces.find((one) => one.id === id);
    if (!piece) return;
    const text = withClaim(piece.text, claim);
    const line = text.split("\n").findLastIndex((row) => row.trim() === claim.trim()) + 1;
    const rows = [...piece.rows, { line, text: claim, fault: "", column: 0 }];
    this.#put(id, { text, rows });
    this.#changed(0);
  }

  #put(id: number, what: Partial<Part>): void {
    this.pieces = this.pieces.map((one) => (one.id === id ? { ...one, ...what } : one));
  }

  /** Another whole text. */
  rewrite(text: string): void {
    this.pieces = [prose(text)];
    this.#changed();
  }

  /** A part more, behind that of the number. */
  insert(after: number, text: string): void {
    const at = this.pieces.findIndex((one) => one.id === after);
    const end = at < 0 ? this.pieces.length : at + 1;
    const before = this.pieces[end - 1]?.text ?? "";
    const gap = before && !before.endsWith("\n") ? "\n" : "";
    const pieces = [...this.pieces];
    pieces.splice(end, 0, prose(gap + text));
    this.pieces = pieces;
    this.#changed(0);
  }

  /** Without a part; what is given back puts it there again. */
  remove(id: number): () => void {
    const before = this.text;
    this.pieces = this.pieces.filter((one) => one.id !== id);
    this.#changed(0);
    return () => this.rewrite(before);
  }

  #changed(pause = PAUSE): void {
    this.#changes += 1;
    this.unsaved = true;
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.save(), pause);
  }

  /** Write what is typed; at once, and after what is being written. */
  save(): Promise<void> {
    clearTimeout(this.#timer);
    this.#turn = this.#turn.then(() => this.#write());
    return this.#turn;
  }

  async #write(): Promise<void> {
    if (!this.unsaved || this.elsewhere) return;
    const mine = this.#changes;
    const params = { path: { name: this.name } };
    const body = { text: this.text, version: this.version };
    try {
      const here = await told(api.PUT("/api/lessons/{name}", { params, body }));
      this.version = here.version;
      this.problem = undefined;
      // What was typed meanwhile is newer, and is written next.
      if (mine !== this.#changes) return;
      this.unsaved = false;
      this.#take(here);
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      this.problem = error;
      this.elsewhere = error.status === 409 && error.code === "store";
    }
  }

  /** Write over what was changed elsewhere. */
  async keepMine(): Promise<void> {
    const params = { path: { name: this.name } };
    this.version = (await told(api.GET("/api/lessons/{name}", { params }))).version;
    this.elsewhere = false;
    await this.save();
  }
}
