// Who is there, and what the store holds: asked once, and again after what changes it.
import { api, told, type Schemas } from "../api/client";

const state = $state<{
  session: Schemas["Session"] | undefined;
  store: Schemas["StoreTold"] | undefined;
}>({ session: undefined, store: undefined });

export function session(): Schemas["Session"] | undefined {
  return state.session;
}

/** What the store holds; undefined where it was not asked yet. */
export function store(): Schemas["StoreTold"] | undefined {
  return state.store;
}

/** Whether nothing was brought in yet. */
export function isEmpty(): boolean {
  const holds = state.store?.holds;
  return holds !== undefined && !holds.games && !holds.students && !holds.exercises;
}

export async function askSession(): Promise<void> {
  state.session = await told(api.GET("/api/session"));
}

export async function askStore(): Promise<void> {
  state.store = await told(api.GET("/api/store"));
}
