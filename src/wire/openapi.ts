// The OpenAPI 3.1 description of the HTTP API, generated from the same schemas that validate it. OpenAPI 3.1 takes
// JSON Schema 2020-12 as it is (OpenAPI Specification 3.1.0, section 4.4), which is what zod writes.
import { z } from "zod";
import { problemShape, problems } from "./problem.ts";
import { problemsOf, type Route } from "./route.ts";

type Json = Readonly<Record<string, unknown>>;

export function openApiOf(routes: readonly Route[], version: string): Json {
  const paths: Record<string, Record<string, Json>> = {};
  for (const route of routes) {
    const path = route.path.replaceAll(/:(\w+)/gu, "{$1}");
    paths[path] = { ...paths[path], [route.method.toLowerCase()]: operationOf(route) };
  }
  return {
    openapi: "3.1.0",
    info: {
      title: "Preen",
      version,
      description:
        "Enrolment of devices and exchange of signed entries. Computes from what the operator entered; is no approval.",
      license: { name: "Apache-2.0", identifier: "Apache-2.0" },
    },
    servers: [{ url: "/" }],
    paths,
    components: {
      schemas: { Problem: schemaOf(problemShape, "output") },
      securitySchemes: {
        bearer: { type: "http", scheme: "bearer", description: "The token that enrolment answers with." },
      },
    },
  };
}

function operationOf(route: Route): Json {
  return {
    operationId: route.id,
    summary: route.summary,
    security: route.auth === "bearer" ? [{ bearer: [] }] : [],
    parameters: [...parametersOf(route.params, "path"), ...parametersOf(route.query, "query")],
    ...(route.body === undefined
      ? {}
      : { requestBody: { required: true, content: json(schemaOf(route.body, "input")) } }),
    responses: {
      200: { description: "Done.", content: json(schemaOf(route.reply, "output")) },
      ...problemResponses(route),
    },
  };
}

function parametersOf(shape: z.ZodObject | undefined, place: "path" | "query"): readonly Json[] {
  if (shape === undefined) return [];
  return Object.entries(shape.shape).map(([name, part]) => ({
    name,
    in: place,
    // What z.coerce takes is anything; what it makes is what the caller should send.
    required: place === "path" || !(part as z.ZodType).safeParse(undefined).success,
    schema: schemaOf(part as z.ZodType, "output"),
  }));
}

/** One response per status; codes that share a status are listed in its description. */
function problemResponses(route: Route): Json {
  const byStatus: Record<number, string[]> = {};
  for (const code of problemsOf(route)) {
    const [status, sentence] = problems[code];
    (byStatus[status] ??= []).push(`\`${code}\`: ${sentence}`);
  }
  return Object.fromEntries(
    Object.entries(byStatus).map(([status, lines]) => [
      status,
      { description: lines.join("\n"), content: json({ $ref: "#/components/schemas/Problem" }) },
    ]),
  );
}

function json(schema: Json): Json {
  return { "application/json": { schema } };
}

function schemaOf(shape: z.ZodType, io: "input" | "output"): Json {
  const { $schema: _, ...schema } = z.toJSONSchema(shape, { io, target: "draft-2020-12" });
  return schema;
}
