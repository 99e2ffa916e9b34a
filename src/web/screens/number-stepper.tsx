// A stepper over one of a form's numbers (use-numbers.ts).
import { Stepper } from "../parts/stepper.tsx";
import type { Numbers } from "./use-numbers.ts";

type NumberStepperProps<Name extends string> = {
  readonly number: Numbers<Name>;
  readonly name: Name;
  readonly label: string;
  readonly unit: string;
  readonly step: number;
  readonly startAt: number;
  readonly hint?: string;
};

export function NumberStepper<Name extends string>({ number, name, ...shown }: NumberStepperProps<Name>) {
  return (
    <Stepper typed={number.text(name)} onTyped={number.set(name)} scale={number.scale(name)} {...shown} />
  );
}
