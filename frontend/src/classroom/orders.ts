// What the teacher can ask for at the class board, as requests.
import { api, told, type Schemas } from "../api/client";
import { language } from "../words/say.svelte";
import type { ClassTold } from "./desk.svelte";

type What = Schemas["Show"]["what"];

/** The requests about one session, each answered by the session as it is then. */
export class Orders {
  constructor(readonly number: number) {}

  get #params() {
    return { path: { number: this.number }, query: { language: language() } };
  }

  here(): Promise<Schemas["ClassHere"]> {
    return told(api.GET("/api/classes/{number}", { params: this.#params }));
  }

  survey(): Promise<Schemas["PositionRead"]> {
    return told(api.GET("/api/classes/{number}/survey", { params: this.#params }));
  }

  enter(move: string): Promise<ClassTold> {
    return told(api.POST("/api/classes/{number}/tries", { params: this.#params, body: { move } }));
  }

  takeOut(tried: number): Promise<ClassTold> {
    const { path, query } = this.#params;
    const params = { path: { ...path, tried }, query };
    return told(api.DELETE("/api/classes/{number}/tries/{tried}", { params }));
  }

  hands(tried: number, change: number): Promise<ClassTold> {
    const { path, query } = this.#params;
    const params = { path: { ...path, tried }, query };
    return told(api.POST("/api/classes/{number}/tries/{tried}/hands", { params, body: { change } }));
  }

  show(what: What, number = 0, said = true): Promise<ClassTold> {
    const body = { what, number, said };
    return told(api.PUT("/api/classes/{number}/shown", { params: this.#params, body }));
  }

  step(step: number): Promise<ClassTold> {
    return told(api.PUT("/api/classes/{number}/step", { params: this.#params, body: { step } }));
  }

  say(said: boolean): Promise<ClassTold> {
    return told(api.PUT("/api/classes/{number}/said", { params: this.#params, body: { said } }));
  }

  playOn(number: number): Promise<ClassTold> {
    return told(api.POST("/api/classes/{number}/play", { params: this.#params, body: { number } }));
  }

  playMove(move: string): Promise<ClassTold> {
    const body = { move };
    return told(api.POST("/api/classes/{number}/play/moves", { params: this.#params, body }));
  }

  takeBack(): Promise<ClassTold> {
    return told(api.DELETE("/api/classes/{number}/play/moves", { params: this.#params }));
  }

  goTo(position: number): Promise<ClassTold> {
    const body = { position };
    return told(api.PUT("/api/classes/{number}/current", { params: this.#params, body }));
  }

  screen(body: Schemas["Screen"]): Promise<ClassTold> {
    return told(api.PUT("/api/classes/{number}/screen", { params: this.#params, body }));
  }

  note(position: number, note: string): Promise<ClassTold> {
    const { path, query } = this.#params;
    const params = { path: { ...path, position }, query };
    const url = "/api/classes/{number}/positions/{position}/note";
    return told(api.PUT(url, { params, body: { note } }));
  }

  remove(position: number): Promise<ClassTold> {
    const { path, query } = this.#params;
    const params = { path: { ...path, position }, query };
    return told(api.DELETE("/api/classes/{number}/positions/{position}", { params }));
  }

  add(body: Schemas["Positions"]): Promise<ClassTold> {
    return told(api.POST("/api/classes/{number}/positions", { params: this.#params, body }));
  }
}

/** What a class board may begin with; what is left out is empty. */
export type Beginning = Partial<Schemas["NewClass"]>;

/** Begin a class board; its number. */
export async function begin(what: Beginning): Promise<number> {
  const none = { fen: "", moves: "", exercises: [], week: "", text: "", title: "" };
  const body = { ...none, language: language(), ...what };
  const here = await told(api.POST("/api/classes", { body }));
  return here.told.number;
}
