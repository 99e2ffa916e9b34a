// The topics of `preen calc`, in the order of the list. Each is loaded only when it is asked for, since start-up is
// paid on every call; so the one-line summaries stand here too, and a test holds them to the topics' own.

import type { Topic } from "./topic.ts";

export type TopicEntry = {
  readonly topic: string;
  readonly summary: string;
  load(): Promise<{ readonly default: Topic }>;
};

export const topics: readonly TopicEntry[] = [];

export function findTopic(name: string): TopicEntry | undefined {
  return topics.find((entry) => entry.topic === name);
}
