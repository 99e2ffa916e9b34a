// Who may import whom. This table is the rule; check-imports.ts holds the sources to it, and ARCHITECTURE.md shows it.
//
// A room is a folder, or the files of one whose names begin alike (`src/store/sqlite*`). A file belongs to the room with
// the longest matching name. Every file may import its own room.

export type Room = {
  /** From the root: a folder, or with a star the beginning of file names in one. */
  readonly room: string;
  readonly mayImport: readonly string[];
  /** Packages by name; "any" is whatever package.json lists. */
  readonly packages: readonly string[] | "any";
  /** May it import Node's own modules (`node:…`)? */
  readonly node: boolean;
  /** Pure: the banned words of banned-words.ts apply. */
  readonly pure: boolean;
};

/**
 * The rooms of the core, from the ground to the top. The ground may import the ground; the middle the ground and the
 * middle; the top everything. Within a tier there are no circles between rooms.
 */
export const coreTiers: readonly { readonly tier: string; readonly rooms: readonly string[] }[] = [
  { tier: "ground", rooms: ["quantity", "facts", "air"] },
  {
    tier: "middle",
    rooms: [
      "chart",
      "sky",
      "sheet",
      "walk",
      "finding",
      "watched",
      "level",
      "load",
      "power",
      "rules",
      "due",
      "crew",
      "fuel",
      "reach",
    ],
  },
  { tier: "top", rooms: ["standing"] },
];

const corePackages = ["astronomy-engine", "geodesy", "geographiclib-geodesic", "temporal-polyfill", "zod"];

const coreRooms: readonly Room[] = coreTiers.flatMap(({ rooms }, index) =>
  rooms.map((name) => ({
    room: `src/core/${name}`,
    mayImport: coreTiers
      .slice(0, index + 1)
      .flatMap((tier) => tier.rooms)
      .filter((other) => other !== name)
      .map((other) => `src/core/${other}`),
    packages: corePackages,
    node: false,
    pure: true,
  })),
);

/** Stands for every room of the core in `mayImport`. */
const core = coreRooms.map(({ room }) => room);

/** What the server and the commands are built from. */
const underNode = [
  ...core,
  "src/ledger",
  "src/sync",
  "src/store",
  "src/store/sqlite*",
  "src/store/photo-shelf*",
  "src/crypto/node*",
  "src/wire",
  "src/present",
  "demo",
];

export const rooms: readonly Room[] = [
  ...coreRooms,
  { room: "src/ledger", mayImport: core, packages: ["temporal-polyfill", "zod"], node: false, pure: true },
  // The implementations of what the ledger asks for: one for Node, one for the browser.
  { room: "src/crypto/node*", mayImport: ["src/ledger"], packages: [], node: true, pure: false },
  {
    room: "src/crypto/web*",
    mayImport: ["src/ledger"],
    packages: ["@noble/ed25519", "@noble/hashes"],
    node: false,
    pure: false,
  },
  { room: "src/sync", mayImport: [...core, "src/ledger"], packages: ["zod"], node: false, pure: true },
  { room: "src/store", mayImport: [...core, "src/ledger"], packages: ["idb"], node: false, pure: false },
  {
    room: "src/store/sqlite*",
    mayImport: [...core, "src/ledger", "src/store"],
    packages: [],
    node: true,
    pure: false,
  },
  {
    room: "src/store/photo-shelf*",
    mayImport: ["src/ledger", "src/crypto/node*"],
    packages: [],
    node: true,
    pure: false,
  },
  {
    room: "src/wire",
    mayImport: [...core, "src/ledger", "src/sync"],
    packages: ["zod"],
    node: false,
    pure: false,
  },
  {
    room: "src/present",
    mayImport: core,
    packages: ["temporal-polyfill"],
    node: false,
    pure: true,
  },
  {
    room: "src/server",
    mayImport: underNode,
    packages: "any",
    node: true,
    pure: false,
  },
  {
    room: "src/web",
    mayImport: [...core, "src/ledger", "src/sync", "src/store", "src/crypto/web*", "src/wire", "src/present"],
    packages: "any",
    node: false,
    pure: false,
  },
  {
    room: "src/cli",
    mayImport: underNode,
    packages: "any",
    node: true,
    pure: false,
  },
  {
    room: "demo",
    mayImport: [...core, "src/ledger", "src/store", "src/store/sqlite*", "src/crypto/node*"],
    packages: "any",
    node: true,
    pure: false,
  },
];

/** What a test beside a source may import on top of its room, apart from Node and any package. */
export const testsMayImport: readonly string[] = [
  ...core,
  "src/store",
  "src/crypto/node*",
  "demo",
  "published",
  "sim",
];

/** The table as ARCHITECTURE.md carries it. */
export function tableInMarkdown(): string {
  const within = coreTiers.map(({ tier, rooms: names }) => `**${tier}**: ${names.join(", ")}`).join("; ");
  const line = ({
    room,
    mayImport,
    packages,
    node,
    pure,
  }: Omit<Room, "mayImport"> & { mayImport: string }): string =>
    `| \`${room}\` | ${mayImport} | ${packages === "any" ? "any listed" : packages.join(", ") || "none"} | ${
      node ? "yes" : "no"
    } | ${pure ? "yes" : "no"} |`;
  const short = (names: readonly string[]): string =>
    [
      ...(core.every((name) => names.includes(name)) ? ["core"] : []),
      ...names.filter((name) => !core.includes(name)).map((name) => name.replace("src/", "")),
    ].join(", ");
  const [firstCore] = coreRooms;
  return [
    "| room | may import | packages | `node:` | pure |",
    "| --- | --- | --- | --- | --- |",
    ...(firstCore === undefined
      ? []
      : [line({ ...firstCore, room: "src/core", mayImport: "core, as below" })]),
    ...rooms
      .filter(({ room }) => !core.includes(room))
      .map((room) => line({ ...room, mayImport: short(room.mayImport) })),
    "",
    `Inside \`src/core\`, from the ground up: ${within}. A room may import its own tier and those under it; rooms do not`,
    `import each other in circles. A test may also import Node, any package and: ${short(testsMayImport)}.`,
  ].join("\n");
}
