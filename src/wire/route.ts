// A route of the HTTP API as data: what it takes, what it answers, who may ask. The server validates by it, the app
// types its calls by it, the OpenAPI document is generated from it.
import type { z } from "zod";
import type { ProblemCode } from "./problem.ts";

export type Route = {
  /** Name of the operation, unique. */
  readonly id: string;
  readonly method: "GET" | "POST";
  /** `:name` marks a part that varies; each has a key in `params`. */
  readonly path: string;
  readonly summary: string;
  readonly auth: "open" | "bearer";
  readonly params?: z.ZodObject;
  readonly query?: z.ZodObject;
  readonly body?: z.ZodObject;
  readonly reply: z.ZodType;
  /** Problems of its own, beside those that every route may answer. */
  readonly problems: readonly ProblemCode[];
};

/** Problems that any route may answer, and those that come with a body and with a token. */
export function problemsOf(route: Route): readonly ProblemCode[] {
  const codes: ProblemCode[] = ["foreignOrigin", "tooFast", "failed", ...route.problems];
  if (route.body !== undefined) codes.push("malformed", "invalid", "tooLarge");
  else if (route.query !== undefined || route.params !== undefined) codes.push("invalid");
  if (route.auth === "bearer") codes.push("tokenMissing", "tokenUnknown");
  return [...new Set(codes)];
}

export type ReplyOf<R extends Route> = z.infer<R["reply"]>;
export type BodyOf<R extends Route> = R["body"] extends z.ZodType ? z.infer<R["body"]> : undefined;
export type QueryOf<R extends Route> = R["query"] extends z.ZodType ? z.infer<R["query"]> : undefined;
export type ParamsOf<R extends Route> = R["params"] extends z.ZodType ? z.infer<R["params"]> : undefined;
