import { expect, test } from "vitest";
import { phrase, phraseText, subject } from "./phrase.ts";

test("a phrase keeps its subject apart and reads as one sentence", () => {
  const sentence = phrase`${subject("Left cowl latch")} is ${"open"}`;
  expect(sentence).toEqual([{ subject: "Left cowl latch" }, " is open"]);
  expect(phraseText(sentence)).toBe("Left cowl latch is open");
});

test("phrases nest", () => {
  expect(phraseText(phrase`${phrase`Weather at ${subject("Hvaløy")}`} is old`)).toBe(
    "Weather at Hvaløy is old",
  );
});
