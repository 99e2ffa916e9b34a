import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import { findTopic, topics } from "./topics.ts";

describe("the topics", () => {
  test("have names of their own, found by name and by nothing else", () => {
    expect(new Set(topics.map(({ topic }) => topic)).size).toBe(topics.length);
    for (const entry of topics) expect(findTopic(entry.topic)).toBe(entry);
    expect(findTopic("constructor")).toBeUndefined();
  });

  describe.each(topics.map((entry) => [entry.topic, entry] as const))("%s", (name, entry) => {
    test("is what the list says it is", async () => {
      const { default: topic } = await entry.load();
      expect([topic.topic, topic.summary]).toEqual([name, entry.summary]);
      expect(topic.summary).not.toMatch(/\n/);
    });

    test("has schemas that compile, and an input that is an object", async () => {
      const { default: topic } = await entry.load();
      const ajv = new Ajv2020({ strict: false, validateFormats: false });
      expect(ajv.compile(topic.inputSchema)).toBeTypeOf("function");
      expect(ajv.compile(topic.outputSchema)).toBeTypeOf("function");
    });

    test("answers nonsense with an error that has a path and one line, whatever the nonsense", async () => {
      const { default: topic } = await entry.load();
      const nonsense = '[{},[],5,null,"a",true,{"nonsense":1},{"__proto__":1},{"constructor":{}}]';
      const { text, isComplete } = answer(topic, nonsense);
      expect(isComplete).toBe(false);
      for (const result of JSON.parse(text) as { error: { path: string; message: string } }[]) {
        expect(Object.keys(result)).toEqual(["error"]);
        expect(result.error.path).toBeTypeOf("string");
        expect(result.error.message).toMatch(/^[^\n]+$/);
        expect(result.error.message).not.toContain("fault in preen");
      }
    });
  });
});
