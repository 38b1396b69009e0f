// Asking the server. An answer is the value it gave; anything else is a Refusal with one sentence to show.

export class Refusal extends Error {
  constructor(detail, status, after) {
    super(detail);
    this.status = status;
    this.after = after;
  }
}

const AWAY = "The server does not answer. Is it still running?";

async function answered(path, options) {
  let response;
  try {
    response = await fetch(path, options);
  } catch (problem) {
    if (problem.name === "AbortError") throw problem;
    throw new Refusal(AWAY, 0, 5);
  }
  if (response.ok) return response;
  const said = await response.json().catch(() => ({}));
  throw new Refusal(said.detail ?? `The server refused (${response.status}).`, response.status, Number(response.headers.get("retry-after")) || 0);
}

/** What the server makes of a list: a value from JSON, or a Blob of another kind. */
export async function ofList(path, text, signal) {
  const response = await answered(path, { method: "POST", headers: { "content-type": "text/plain; charset=utf-8" }, body: text, signal });
  return response.headers.get("content-type").startsWith("application/json") ? response.json() : response.blob();
}

const kept = new Map();

/** A value that never changes while the page is open, asked for once. */
export function lookUp(path) {
  if (!kept.has(path)) {
    const asked = answered(path).then((response) =>
      response.headers.get("content-type").startsWith("application/json") ? response.json() : response.text());
    kept.set(path, asked);
    asked.catch(() => kept.delete(path));
  }
  return kept.get(path);
}

/** Many files at once, each under the name of its field. */
export async function ofFiles(path, form) {
  return (await answered(path, { method: "POST", body: form })).json();
}
