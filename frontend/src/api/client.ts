// The API's client, made from its description. A problem is told as an error with its sentence.
import createClient from "openapi-fetch";
import type { components, paths } from "./schema";

export type Schemas = components["schemas"];
type Problem = Schemas["Problem"];

/** What a page of the workbench sends with a change, and no page of another site can. */
const CHANGE = { "x-fastness": "1" };

export const api = createClient<paths>({ baseUrl: location.origin, headers: CHANGE });

/** An answer that says what was wrong; `faults` are its single sentences. */
export class ProblemError extends Error {
  override readonly name = "ProblemError";
  constructor(
    readonly status: number,
    readonly code: string,
    message: string,
    readonly faults: readonly string[] = [],
  ) {
    super(message);
  }
}

interface Answer<Data> {
  data?: Data;
  error?: unknown;
  response: Response;
}

/** What was answered; a problem is thrown. */
export async function told<Data>(asked: Promise<Answer<Data>>): Promise<Data> {
  let answer: Answer<Data>;
  try {
    answer = await asked;
  } catch {
    throw new ProblemError(0, "away", "");
  }
  if (answer.response.ok) return answer.data as Data;
  const { code, detail, faults } = (answer.error ?? {}) as Partial<Problem>;
  const sentences = (faults ?? []).map((fault) => fault.told);
  throw new ProblemError(answer.response.status, code ?? "", detail ?? "", sentences);
}

/** A file that a route makes: its bytes and the name it is to be kept under. */
export async function file(path: string, body?: unknown): Promise<{ name: string; data: Blob }> {
  const how =
    body === undefined
      ? {}
      : {
          method: "POST",
          headers: { ...CHANGE, "content-type": "application/json" },
          body: JSON.stringify(body),
        };
  const response = await fetch(path, how);
  if (!response.ok) {
    const error: unknown = await response.json().catch(() => undefined);
    return told<never>(Promise.resolve({ error, response }));
  }
  const disposition = response.headers.get("content-disposition") ?? "";
  const name = decodeURIComponent(/filename\*=UTF-8''([^;]+)/.exec(disposition)?.[1] ?? "file");
  return { name, data: await response.blob() };
}

/** Let the browser keep a file. */
export function keep({ name, data }: { name: string; data: Blob }): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(data);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
