// Short hand for writing a sheet's texts and items. A pair is written once and stands on both sides, mirrored.

import type { Applicability } from "../../../src/core/sheet/applicability-schema.ts";
import type { Sheet } from "../../../src/core/sheet/schema.ts";
import type { Action, Expectation, Item, WalkKind } from "../../../src/core/sheet/walk-blocks.ts";

export type Element<Block extends keyof Sheet> =
  NonNullable<Sheet[Block]> extends readonly (infer One)[] ? One : never;

export const t = (en: string, de: string) => ({ en, de });

export const fitted = (equipment: string): Applicability => ({ installed: equipment });
export const on = (
  condition: Extract<Applicability, { condition: unknown }>["condition"],
): Applicability => ({ condition });

const walks = {
  full: ["full"],
  launch: ["launch"],
  parking: ["parking"],
  fullLaunch: ["full", "launch"],
  launchParking: ["launch", "parking"],
  fullParking: ["full", "parking"],
} as const satisfies Record<string, readonly WalkKind[]>;

/** What an item may say beyond its text. In a pair `*` stands for Left or Right, `@name` for the item of that name here. */
type Extra = Partial<
  Pick<
    Item,
    "detail" | "applies" | "opens" | "closes" | "reads" | "provision" | "after" | "marksNeeded" | "sweep"
  >
> & {
  readonly in?: keyof typeof walks;
};
type Draft = readonly [
  name: string,
  ata: string,
  action: Action,
  expect: Expectation,
  en: string,
  de: string,
  extra?: Extra,
];

const here = (stop: string, name: string) => (name.startsWith("@") ? `${stop}.${name.slice(1)}` : name);

function itemAt(stop: string, [name, ata, action, expect, en, de, extra = {}]: Draft): Item {
  const { in: walk = "full", sweep, provision, after, ...rest } = extra;
  const singly = [rest.opens, rest.closes, rest.reads, rest.marksNeeded].some((part) => part !== undefined);
  return {
    id: `${stop}.${name}`,
    stop,
    ata,
    action,
    text: t(en, de),
    expect,
    ...rest,
    ...(provision === undefined ? {} : { provision: here(stop, provision) }),
    ...(after === undefined ? {} : { after: after.map((one) => here(stop, one)) }),
    walks: walks[walk],
    sweep: sweep ?? !singly,
  };
}

/** The items of one stop, in the order in which they are done. */
export const at = (stop: string, drafts: readonly Draft[]): readonly Item[] =>
  drafts.map((draft) => itemAt(stop, draft));

/** The items that stand alike at `left…` and `right…`. */
export function bothSides(
  stem: string,
  drafts: readonly Draft[],
): { left: readonly Item[]; right: readonly Item[] } {
  const side = (which: "left" | "right", other: "left" | "right") =>
    drafts.map((draft): Item => {
      const item = itemAt(`${which}${stem}`, draft);
      const sided = (names: readonly string[]) =>
        names.map((name) => name.replace("*", which === "left" ? "Left" : "Right"));
      return {
        ...item,
        ...(item.opens === undefined ? {} : { opens: sided(item.opens) }),
        ...(item.closes === undefined ? {} : { closes: sided(item.closes) }),
        ...(item.reads === undefined ? {} : { reads: sided([item.reads])[0] as string }),
        mirrored: `${other}${stem}.${draft[0]}`,
      };
    });
  return { left: side("left", "right"), right: side("right", "left") };
}
