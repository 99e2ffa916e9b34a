// Runs phases side by side as far as the machine allows: each takes one or two of the places, starts in the order of
// the list as soon as there is room and what it waits for is through, and never stops another by failing.

export type Phase<T> = {
  readonly name: string;
  /** How many processors it keeps busy. */
  readonly places: 1 | 2;
  /** Names of phases that must have ended; one that is not in the list is not waited for. */
  readonly after?: readonly string[];
  run(): Promise<T>;
};

/** Calls `onEnd` as each phase ends; resolves when all have. A phase that throws hands its error to `onEnd`. */
export async function runPhases<T>(
  phases: readonly Phase<T>[],
  places: number,
  onEnd: (phase: Phase<T>, result: T | Error) => void,
): Promise<void> {
  const waiting = [...phases];
  const running = new Map<Phase<T>, Promise<void>>();
  const ended = new Set<string>();
  const isReady = ({ after = [] }: Phase<T>): boolean =>
    after.every((name) => ended.has(name) || !phases.some((phase) => phase.name === name));

  const start = (phase: Phase<T>): void => {
    const through = phase
      .run()
      .catch((error: unknown) => (error instanceof Error ? error : new Error(String(error))))
      .then((result) => {
        running.delete(phase);
        ended.add(phase.name);
        onEnd(phase, result);
      });
    running.set(phase, through);
  };

  while (waiting.length + running.size > 0) {
    const taken = [...running.keys()].reduce((sum, phase) => sum + phase.places, 0);
    const next = waiting.findIndex(isReady);
    const phase = waiting[next];
    // What asks for more places than there are runs alone.
    if (phase !== undefined && (taken + phase.places <= places || taken === 0)) {
      waiting.splice(next, 1);
      start(phase);
    } else if (running.size > 0) await Promise.race(running.values());
    else throw new Error(`phases wait for each other: ${waiting.map(({ name }) => name).join(", ")}`);
  }
}
