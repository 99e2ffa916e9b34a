// Looking up by an id that somebody typed or sent: `record["constructor"]` must not find what every object inherits.

/** The record's own value under the key, or undefined. */
export function own<Value>(record: Readonly<Record<string, Value>>, key: string): Value | undefined {
  return Object.hasOwn(record, key) ? record[key] : undefined;
}
