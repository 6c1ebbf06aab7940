// Something followed by server-sent events: each event is the whole of it as it is now.

export interface Heard<Told> {
  heard: (told: Told) => void;
  /** Whether the server answers; while it does not, the browser asks again by itself. */
  there: (there: boolean) => void;
  /** The server refused: there is nothing to follow, or no longer. */
  refused: () => void;
}

/** Follow what is told at an address; what is given back ends it. */
export function follow<Told>(address: string, to: Heard<Told>): () => void {
  const events = new EventSource(address);
  events.onopen = () => to.there(true);
  events.onmessage = (event: MessageEvent<string>) => {
    const told = JSON.parse(event.data) as Told & { over?: boolean };
    if (told.over) events.close();
    to.heard(told);
  };
  events.onerror = () => {
    if (events.readyState === EventSource.CLOSED) to.refused();
    else to.there(false);
  };
  return () => events.close();
}
