// Checked against: the JSON Schema of OpenAPI 3.1 (2022-10-07) as carried by @seriousme/openapi-schema-validator 2.11.0.
import { Validator } from "@seriousme/openapi-schema-validator";
import { describe, expect, test } from "vitest";
import { z } from "zod";
import { openApiOf } from "./openapi.ts";
import { problems } from "./problem.ts";
import { problemsOf, type Route } from "./route.ts";
import { routes } from "./routes.ts";

type Operation = {
  operationId: string;
  security: unknown[];
  parameters: { name: string; in: string; required: boolean; schema: Record<string, unknown> }[];
  requestBody?: unknown;
  responses: Record<string, { description: string }>;
};

const document = openApiOf(routes, "1.2.3");
const operations = document["paths"] as Record<string, Record<string, Operation>>;

function operationOf(route: Route): Operation | undefined {
  return operations[route.path.replaceAll(/:(\w+)/gu, "{$1}")]?.[route.method.toLowerCase()];
}

/** Every problem of a document by the outside validator. */
async function faultsOf(candidate: unknown): Promise<unknown> {
  const result = await new Validator().validate(structuredClone(candidate) as Record<string, unknown>);
  return result.valid ? [] : result.errors;
}

describe("The OpenAPI description", () => {
  test("is a valid OpenAPI 3.1 document", async () => {
    expect(await faultsOf(document)).toEqual([]);
    expect(document["openapi"]).toBe("3.1.0");
  });

  test("would be found invalid if it were (the check checks)", async () => {
    expect(await faultsOf({ ...document, info: {} })).not.toEqual([]);
    expect(await faultsOf({ ...document, paths: { "/x": { get: { responses: 7 } } } })).not.toEqual([]);
  });

  test("has one operation per route, with a name of its own", () => {
    const found = Object.values(operations).flatMap((methods) =>
      Object.values(methods).map((o) => o.operationId),
    );
    expect(found.toSorted()).toEqual(routes.map((r) => r.id).toSorted());
    expect(new Set(found).size).toBe(routes.length);
  });

  test("has only references that resolve", () => {
    const references = [...JSON.stringify(document).matchAll(/"\$ref":"([^"]+)"/gu)].map((m) => m[1]!);
    expect(references.length).toBeGreaterThan(0);
    for (const reference of references) {
      let at: unknown = document;
      for (const part of reference.replace("#/", "").split("/")) at = (at as Record<string, unknown>)[part];
      expect([reference, typeof at]).toEqual([reference, "object"]);
    }
  });

  test.each(routes)("tells all about $method $path", (route) => {
    const operation = operationOf(route)!;
    expect(operation.security).toEqual(route.auth === "bearer" ? [{ bearer: [] }] : []);
    expect(operation.requestBody !== undefined).toBe(route.body !== undefined);
    expect(operation.parameters.map((p) => `${p.in} ${p.name}`)).toEqual([
      ...Object.keys(route.params?.shape ?? {}).map((name) => `path ${name}`),
      ...Object.keys(route.query?.shape ?? {}).map((name) => `query ${name}`),
    ]);
    for (const code of problemsOf(route)) {
      expect(operation.responses[problems[code][0]]?.description).toContain(`\`${code}\``);
    }
    for (const part of route.path.matchAll(/:(\w+)/gu)) expect(route.params?.shape).toHaveProperty(part[1]!);
  });

  test("says which parameters may be left out, and that a limit is a whole number", () => {
    const pull = operationOf(routes.find((r) => r.id === "pull")!)!;
    expect(pull.parameters.map((p) => p.required)).toEqual([false, false, false, false]);
    expect(pull.parameters.at(-1)!.schema).toMatchObject({ type: "integer", minimum: 1 });
    const sheet = operationOf(routes.find((r) => r.id === "sheet")!)!;
    expect(sheet.parameters.map((p) => p.required)).toEqual([true]);
  });

  test("takes a route that somebody adds", async () => {
    const added = {
      id: "added",
      method: "POST",
      path: "/api/added/:name",
      summary: "Added.",
      auth: "bearer",
      params: z.strictObject({ name: z.string() }),
      body: z.strictObject({ at: z.string().nullable() }),
      reply: z.object({ ok: z.boolean() }),
      problems: ["notFound"],
    } as const satisfies Route;
    expect(await faultsOf(openApiOf([...routes, added], "1"))).toEqual([]);
  });
});

describe("Problems", () => {
  test("each have a status that HTTP calls an error and a sentence", () => {
    for (const [status, sentence] of Object.values(problems)) {
      expect(status).toBeGreaterThanOrEqual(400);
      expect(status).toBeLessThan(600);
      expect(sentence).toMatch(/^[A-Z].*\.$/u);
    }
  });
});
