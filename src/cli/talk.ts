// Calls of a running server's routes, as a device makes them; answers are read by the wire's own schemas, and a problem is
// told in the server's words.
import type { StoredEntry } from "../ledger/entry.ts";
import { pullRoute } from "../wire/exchange.ts";
import { problemShape } from "../wire/problem.ts";
import type { ReplyOf, Route } from "../wire/route.ts";
import { UsageError } from "./words.ts";

type Ask = { readonly body?: unknown; readonly token?: string; readonly query?: string };

export class Talk {
  readonly #url: string;
  constructor(url: string) {
    this.#url = url;
  }

  async ask<R extends Route>(route: R, { body, token, query = "" }: Ask): Promise<ReplyOf<R>> {
    const response = await fetch(`${this.#url}${route.path}${query}`, {
      method: route.method,
      headers: {
        ...(body === undefined ? {} : { "content-type": "application/json" }),
        ...(token === undefined ? {} : { authorization: `Bearer ${token}` }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    }).catch((error: unknown) => {
      throw new UsageError(`${this.#url} does not answer (${String(error)}); name it with --server`);
    });
    const answer: unknown = await response.json();
    const problem = problemShape.safeParse(answer);
    if (!response.ok)
      throw new UsageError(problem.success ? problem.data.message : `status ${response.status}`);
    return route.reply.parse(answer) as ReplyOf<R>;
  }

  /** Everything of a ledger that the server has. */
  async pull(ledger: string, token: string): Promise<readonly StoredEntry[]> {
    const entries: StoredEntry[] = [];
    for (let cursor: string | null = null; ;) {
      const query = new URLSearchParams({ ledger, ...(cursor === null ? {} : { cursor }) });
      const page: ReplyOf<typeof pullRoute> = await this.ask(pullRoute, { token, query: `?${query}` });
      entries.push(...page.entries);
      cursor = page.cursor;
      if (!page.more) return entries;
    }
  }
}
