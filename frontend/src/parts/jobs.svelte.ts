// Long work, followed by server-sent events: each event is the whole job as it is now.
import { api, told, type Schemas } from "../api/client";

export type Job = Schemas["JobTold"];
export type Result = NonNullable<Job["result"]>;

/** Whether nothing more will happen. */
export function isOver(job: Job): boolean {
  return job.state !== "waiting" && job.state !== "running";
}

/** A job of one of these kinds that was begun before and is not over; `about` names its work. */
export async function goingOn(
  kinds: readonly Job["kind"][],
  about?: string,
): Promise<Job | undefined> {
  const jobs = await told(api.GET("/api/jobs"));
  const wanted = (one: Job) => kinds.includes(one.kind) && (about ?? one.about) === one.about;
  return jobs.find((one) => wanted(one) && !isOver(one));
}

/** Hear of a job until it is over; what is given back stops the hearing, and not the job. */
export function followJob(id: string, heard: (job: Job) => void): () => void {
  const events = new EventSource(`/api/jobs/${encodeURIComponent(id)}/events`);
  events.onmessage = (event: MessageEvent<string>) => {
    const job = JSON.parse(event.data) as Job;
    if (isOver(job)) events.close();
    heard(job);
  };
  return () => events.close();
}

/** The result of a job, if it has that kind of one. */
export function resultOf<Kind extends Result["kind"]>(
  job: Job | undefined,
  kind: Kind,
): Extract<Result, { kind: Kind }> | undefined {
  const result = job?.result;
  return result?.kind === kind ? (result as Extract<Result, { kind: Kind }>) : undefined;
}
