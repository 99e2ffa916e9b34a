// `preen calc`: any number of the program, recomputed outside it. One JSON object, or an array of them, on standard
// input; the result or results on standard output, in the same order.
//
// Exit codes: 0 all answered; 2 an element could not be answered, the input is no JSON, or the topic is unknown.

import { findTopic, topics } from "./calc/topics.ts";

export const usage = `usage: preen calc                     list the topics
       preen calc TOPIC < input.json  answer one object, or each of an array
       preen calc TOPIC --schema      print the JSON Schema of input and output`;

/** Runs the command with what follows `calc`; returns the exit code. */
export async function run(words: readonly string[]): Promise<number> {
  const [name, ...options] = words;
  if (name === undefined) return print(topicList());
  if (name === "--help" || name === "-h") return print(`${usage}\n\n${topicList()}`);
  const entry = findTopic(name);
  if (entry === undefined)
    return fail(`there is no topic ${JSON.stringify(name)}; preen calc lists the topics`);
  const { default: topic } = await entry.load();
  if (options.length === 1 && options[0] === "--schema")
    return print(schemaText(topic.inputSchema, topic.outputSchema));
  if (options.length > 0)
    return fail(`preen calc ${name} takes no ${JSON.stringify(options[0])}, only --schema`);

  const { answer, InvalidText } = await import("./calc/answer.ts");
  try {
    const { text, isComplete } = answer(topic, await readAll());
    await print(text);
    return isComplete ? 0 : 2;
  } catch (error) {
    if (error instanceof InvalidText) return fail(error.message);
    throw error;
  }
}

function topicList(): string {
  const width = Math.max(0, ...topics.map((entry) => entry.topic.length));
  return topics.map((entry) => `${entry.topic.padEnd(width)}  ${entry.summary}\n`).join("");
}

function schemaText(input: object, output: object): string {
  const $schema = "https://json-schema.org/draft/2020-12/schema";
  return `${JSON.stringify({ input: { $schema, ...input }, output: { $schema, ...output } }, null, 2)}\n`;
}

/** Standard input as text. A byte order mark is dropped; bytes that are no UTF-8 count as no JSON. */
async function readAll(): Promise<string> {
  const { InvalidText } = await import("./calc/answer.ts");
  const chunks: Buffer[] = [];
  for await (const chunk of process.stdin) chunks.push(chunk as Buffer);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(Buffer.concat(chunks));
  } catch {
    throw new InvalidText("the input is not valid JSON: it is not UTF-8");
  }
}

/**
 * Writes and waits until it is through, so that leaving does not cut a long answer off. A reader who has seen enough and
 * closes the pipe is no fault.
 */
function print(text: string): Promise<0> {
  return new Promise((resolve, reject) => {
    process.stdout.once("error", closed);
    process.stdout.write(text, (error) => {
      if (error == null) resolve(0);
      else closed(error);
    });

    function closed(error: NodeJS.ErrnoException): void {
      if (error.code === "EPIPE") resolve(0);
      else reject(error);
    }
  });
}

function fail(line: string): 2 {
  process.stderr.write(`preen calc: ${line}\n`);
  return 2;
}
