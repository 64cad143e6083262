/**
 * What is mutated, part by part, and the tests that must notice. Money comes first. Only tests that need no browser and
 * no machine of their own stand here: a mutant that is met by none of them would only be met by luck. The laws of money
 * draw hundreds of cases for each mutant, so they are left out where plain examples do.
 */

export const PARTS = {
  price: {
    mutate: ["core/price/*.ts", "core/apportion.ts", "core/order/{states,carriage,withdrawal}.ts"],
    tests: [
      "tests/core/price/*.test.ts",
      "tests/core/apportion.test.ts",
      "tests/core/order/{states,carriage,withdrawal}.test.ts",
    ],
  },
  charges: {
    mutate: [
      "service/tills/{currency,charge-form,stripe-session}.ts",
      "service/actions/order-amounts.ts",
    ],
    tests: [
      "tests/service/tills/{currency,charge-form,stripe-session}.test.ts",
      "tests/service/actions/order-amounts.test.ts",
    ],
  },
  tills: {
    mutate: ["service/tills/*.ts", "!service/tills/{currency,charge-form,stripe-session}.ts"],
    tests: ["tests/service/tills/{choose-till,practice,stripe*}.test.ts"],
  },
  settling: {
    mutate: ["service/actions/{refund,settle-*}.ts"],
    tests: ["tests/service/actions/*.test.ts"],
  },
  order: {
    mutate: [
      ...["core/order/*.ts", "core/order/{nearest,wishes}/*.ts"],
      "!core/order/{states,carriage,withdrawal}.ts",
    ],
    tests: ["tests/core/order/*.test.ts", "tests/core/order/{nearest,wishes}/*.test.ts"],
  },
  room: {
    mutate: ["core/order/room/*.ts"],
    tests: ["tests/core/order/room/*.test.ts"],
  },
  compose: {
    mutate: ["core/*.ts", "core/compose/*.ts", "!core/apportion.ts", "!core/wire*.ts"],
    tests: [
      "tests/core/*.test.ts",
      "tests/core/compose/*.test.ts",
      "tests/laws/shares.law.test.ts",
    ],
  },
  judge: {
    mutate: ["core/judge/*.ts"],
    tests: [
      ...["tests/core/judge/*.test.ts", "tests/laws/solid-fat.law.test.ts"],
      "tests/published/*.test.ts",
    ],
  },
  make: {
    mutate: ["core/make/*.ts"],
    tests: ["tests/core/make/*.test.ts", "tests/laws/{loads,weighing}.law.test.ts"],
  },
};

/** @returns the part that the environment names */
export function chosenPart() {
  const name = process.env.SOFTSET_MUTANTS ?? "";
  const part = PARTS[name];
  if (!part) throw new Error(`there is no part “${name}”: ${Object.keys(PARTS).join(", ")}`);
  return { name, ...part };
}
