// `preen`: finds the subcommand and hands over. Each subcommand is one file that exports `run(words)` and is loaded only
// when it is called, so that none pays for the others.

type Subcommand = {
  readonly summary: string;
  load(): Promise<{ run(words: readonly string[]): number | Promise<number> }>;
};

const subcommands: Readonly<Record<string, Subcommand>> = {
  backup: {
    summary: "pack record, directory, sheets and photos of a server into one file, also while it runs",
    load: () => import("./backup.ts"),
  },
  calc: {
    summary: "recompute any number of the program from JSON",
    load: () => import("./calc.ts"),
  },
  erase: {
    summary:
      "erase what an entry says, or a photo, by role and for a legal reason; the record still proves itself",
    load: () => import("./erase.ts"),
  },
  export: {
    summary: "write the record, or one craft's, with its photos as lines that can be proven offline",
    load: () => import("./export.ts"),
  },
  ledger: {
    summary: "list the entries of a craft, with the hash of its folded state",
    load: () => import("./ledger.ts"),
  },
  restore: {
    summary: "unpack a backup into an empty folder",
    load: () => import("./restore.ts"),
  },
  readings: {
    summary: "tell the gauges of a craft with their trend; readings and uplifts as CSV, out and checked",
    load: () => import("./readings.ts"),
  },
  sheet: {
    summary: "check a type sheet and list every error; measure the order of its walks",
    load: () => import("./sheet.ts"),
  },
  standing: {
    summary: "tell the standing of each craft, or of one with its reasons",
    load: () => import("./standing.ts"),
  },
  verify: {
    summary: "prove an export offline, naming each entry that is wrong",
    load: () => import("./verify.ts"),
  },
  walk: {
    summary: "show the plan of a walk, with why each item applies or not",
    load: () => import("./walk.ts"),
  },
  weather: {
    summary: "tell the weather and the light over a craft at its base, with every report group by group",
    load: () => import("./weather.ts"),
  },
};

function usage(): string {
  const width = Math.max(...Object.keys(subcommands).map((name) => name.length));
  const lines = Object.entries(subcommands).map(
    ([name, { summary }]) => `  ${name.padEnd(width)}  ${summary}\n`,
  );
  return `usage: preen COMMAND …\n${lines.join("")}`;
}

async function main(words: readonly string[]): Promise<number> {
  const [name, ...rest] = words;
  if (name === undefined || name === "--help" || name === "-h") {
    process.stdout.write(usage());
    return 0;
  }
  const subcommand = Object.hasOwn(subcommands, name) ? subcommands[name] : undefined;
  if (subcommand === undefined) {
    process.stderr.write(`preen: there is no command ${JSON.stringify(name)}; preen --help lists them\n`);
    return 2;
  }
  const { run } = await subcommand.load();
  return run(rest);
}

// Whoever reads may stop reading (`| head`): that is no error of ours.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(0);
  throw error;
});
process.exitCode = await main(process.argv.slice(2));
