// Puts the routes of the wire's table onto the HTTP server: reads what came by the route's own schemas, asks for the
// token where the route wants one, and answers what the handler gives. The one place where both meet.
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import type { z } from "zod";
import type { WireIssue } from "../wire/problem.ts";
import type { BodyOf, ParamsOf, QueryOf, ReplyOf, Route } from "../wire/route.ts";
import type { Device } from "./directory.ts";
import { ProblemError } from "./problem-error.ts";

export type Asked<R extends Route> = {
  readonly body: BodyOf<R>;
  readonly query: QueryOf<R>;
  readonly params: ParamsOf<R>;
  /** Whose token came with the request; null on open routes. */
  readonly device: R["auth"] extends "bearer" ? Device : null;
  /** To set headers on. */
  readonly reply: FastifyReply;
};

export type Handler<R extends Route> = (asked: Asked<R>) => Promise<Given<ReplyOf<R>>>;

/** An answer may be made of what nobody may change. */
type Given<T> = T extends readonly (infer Part)[]
  ? readonly Given<Part>[]
  : T extends object
    ? { readonly [Name in keyof T]: Given<T[Name]> }
    : T;

/** Serves a route of the wire's table. Others add theirs by the same call. */
export type Serve = <R extends Route>(route: R, handler: Handler<R>) => void;

export function serveOn(app: FastifyInstance, deviceOf: (token: string) => Device | null): Serve {
  return (route, handler) => {
    app.route({
      method: route.method,
      url: route.path,
      handler: async (request, reply) => {
        const device = route.auth === "bearer" ? deviceFrom(request, deviceOf) : null;
        const asked = { device, ...readAsked(route, request), reply };
        return handler(asked as unknown as Parameters<typeof handler>[0]);
      },
    });
  };
}

function deviceFrom(request: FastifyRequest, deviceOf: (token: string) => Device | null): Device {
  const [scheme, token, ...rest] = (request.headers.authorization ?? "").split(" ");
  if (scheme?.toLowerCase() !== "bearer" || token === undefined || token === "" || rest.length > 0)
    throw new ProblemError("tokenMissing");
  const device = deviceOf(token);
  if (device === null) throw new ProblemError("tokenUnknown");
  return device;
}

function readAsked(
  route: Route,
  request: FastifyRequest,
): { body: unknown; query: unknown; params: unknown } {
  const issues: WireIssue[] = [];
  const read = (schema: z.ZodType | undefined, place: string, found: unknown): unknown => {
    if (schema === undefined) return undefined;
    const result = schema.safeParse(found);
    if (result.success) return result.data;
    issues.push(...result.error.issues.map((issue) => wireIssue(issue, place, found)));
    return undefined;
  };
  const asked = {
    body: read(route.body, "body", request.body),
    query: read(route.query, "query", request.query),
    params: read(route.params, "params", request.params),
  };
  if (issues.length > 0) throw new ProblemError("invalid", { issues: issues.slice(0, mostIssues) });
  return asked;
}

/** Enough to see what is wrong; a batch of bad entries must not be answered by a longer text than itself. */
const mostIssues = 50;

function wireIssue({ path, message }: z.core.$ZodIssue, place: string, given: unknown): WireIssue {
  let found: unknown = given;
  for (const step of path) found = (found as Record<PropertyKey, unknown> | null | undefined)?.[step];
  const text = found === undefined ? "nothing" : JSON.stringify(found);
  return {
    path: `/${[place, ...path].map(String).join("/")}`,
    found: text.length > 80 ? `${text.slice(0, 77)}...` : text,
    wanted: message,
  };
}
