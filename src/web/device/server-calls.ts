// Talks to the server: one function per route, each with a time-out, answers read by the wire's own schemas. A call that
// brings no good answer fails with a CallError whose reason the exchange understands.
import { CallError } from "../../sync/exchanger.ts";
import type { Answer, Call, CallFailure } from "../../sync/message.ts";
import { enrolRoute, helloRoute, offerRoute, pullRoute, pushRoute, sheetRoute } from "../../wire/exchange.ts";
import { keepPhotoRoute, photoRoute } from "../../wire/photos.ts";
import { problemShape } from "../../wire/problem.ts";
import type { Problem } from "../../wire/problem.ts";
import type { BodyOf, ReplyOf, Route } from "../../wire/route.ts";

export type Hello = ReplyOf<typeof helloRoute>;
export type Enrolled = ReplyOf<typeof enrolRoute>;

/** A weak mobile link answers within this or not at all. */
const timeout_ms = 20_000;

/** The server said no; `problem` is what it said. */
export class ServerRefusal extends Error {
  override readonly name = "ServerRefusal";
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.message);
    this.problem = problem;
  }
}

type Ask = { readonly path: string; readonly body?: unknown; readonly token?: string | null };

async function ask<R extends Route>(route: R, { path, body, token }: Ask): Promise<ReplyOf<R>> {
  let response: Response;
  try {
    response = await fetch(path, {
      method: route.method,
      signal: AbortSignal.timeout(timeout_ms),
      headers: {
        ...(body === undefined ? {} : { "content-type": "application/json" }),
        ...(token == null ? {} : { authorization: `Bearer ${token}` }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
  } catch (error) {
    const late = error instanceof DOMException && error.name === "TimeoutError";
    throw new CallError(late ? "timedOut" : "offline", null, error);
  }
  let answer: unknown;
  try {
    answer = await response.json();
  } catch (error) {
    // A proxy or a captive portal answered in the server's place.
    throw new CallError(response.ok ? "badAnswer" : "serverFailed", null, error);
  }
  if (!response.ok) {
    const problem = problemShape.safeParse(answer);
    throw problem.success ? new ServerRefusal(problem.data) : new CallError("serverFailed");
  }
  const reply = route.reply.safeParse(answer);
  if (!reply.success) throw new CallError("badAnswer", null, reply.error);
  return reply.data as ReplyOf<R>;
}

export function hello(): Promise<Hello> {
  return ask(helloRoute, { path: helloRoute.path });
}

export function enrol(body: BodyOf<typeof enrolRoute>): Promise<Enrolled> {
  return ask(enrolRoute, { path: enrolRoute.path, body });
}

/** The text of a sheet, as the server keeps it. */
export function fetchSheet(hash: string): Promise<unknown> {
  return ask(sheetRoute, { path: sheetRoute.path.replace(":hash", hash) });
}

/** Hands a photo over, as base64. */
export async function sendPhoto(hash: string, data: string, token: string): Promise<void> {
  await ask(keepPhotoRoute, { path: keepPhotoRoute.path, body: { hash, data }, token });
}

/** A photo as base64. */
export async function fetchPhoto(hash: string, token: string): Promise<string> {
  return (await ask(photoRoute, { path: photoRoute.path.replace(":hash", hash), token })).data;
}

function failureOf({ code }: Problem): CallFailure {
  switch (code) {
    case "tokenMissing":
    case "tokenUnknown":
      return "tokenRefused";
    case "tooFast":
      return "tooFast";
    case "tooLarge":
      return "tooLarge";
    case "malformed":
    case "invalid":
    case "notFound":
    case "methodUnknown":
      return "versionRefused";
    default:
      // Whatever else a server says no to, this device can only wait and try again.
      return "serverFailed";
  }
}

/** One call of the exchange. */
export async function exchangeCall(call: Call, token: string): Promise<Answer> {
  try {
    return await exchange(call, token);
  } catch (error) {
    if (!(error instanceof ServerRefusal)) throw error;
    const { retryAfter_s } = error.problem;
    throw new CallError(
      failureOf(error.problem),
      retryAfter_s === undefined ? null : retryAfter_s * 1_000,
      error,
    );
  }
}

async function exchange(call: Call, token: string): Promise<Answer> {
  switch (call.kind) {
    case "offer": {
      const body = { ids: call.ids, ...(call.seen === null ? {} : { seen: call.seen }) };
      return { kind: "offer", ...(await ask(offerRoute, { path: offerRoute.path, body, token })) };
    }
    case "push": {
      const body = { entries: call.entries, ...(call.seen === null ? {} : { seen: call.seen }) };
      return { kind: "push", ...(await ask(pushRoute, { path: pushRoute.path, body, token })) };
    }
    case "pull": {
      const query = new URLSearchParams({ limit: String(call.limit) });
      if (call.cursor !== null) query.set("cursor", call.cursor);
      if (call.seen !== null) query.set("seen", call.seen);
      if (call.ledger !== null) query.set("ledger", call.ledger);
      return { kind: "pull", ...(await ask(pullRoute, { path: `${pullRoute.path}?${query}`, token })) };
    }
    default:
      return call satisfies never;
  }
}
