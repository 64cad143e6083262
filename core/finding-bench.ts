/**
 * Findings that only the service meets: at the order, the price policy and the bench. They stand apart, because the
 * page's script leaves this file out (`widget/bundle.mjs`); nothing that runs in the page may state one of them.
 */
import type { Kind } from "./finding.ts";

export const BENCH_KINDS = {
  "compose.jar.unknown": {
    mend: "customer",
    weight: "refuses",
  },
  "compose.quantity.out-of-range": {
    mend: "customer",
    weight: "refuses",
  },
  "judge.certificate.too-few-readings": {
    mend: "maker",
    weight: "cannot-judge",
    words: "The solid fat curve of {subject} needs at least {limit} readings; it has {measured}.",
  },
  "judge.certificate.out-of-range": {
    mend: "maker",
    weight: "cannot-judge",
    words:
      "The solid fat curve of {subject} holds {measured}; -10 to 60 °C and 0 to 100 % can be used.",
  },
  "judge.certificate.rises": {
    mend: "maker",
    weight: "cannot-judge",
    words:
      "The solid fat curve of {subject} must fall with temperature; at {measured} °C it does not.",
  },
  "judge.grain.possible": {
    mend: "maker",
    weight: "tells",
    words:
      "It can turn grainy if it cools slowly: {measured} % of its fat is the kind that grows grains.",
  },
  "judge.liquid.may-set": {
    mend: "nobody",
    weight: "tells",
    words:
      "{subject} itself sets below {limit} °C, which is not reckoned: at {measured} °C the jar can be " +
      "firmer than told.",
  },
  "price.policy.impossible": {
    mend: "maker",
    weight: "refuses",
    words: "The price policy cannot be used: {subject}.",
  },
  "make.scale.below-resolution": {
    mend: "maker",
    weight: "refuses",
  },
  "make.batch.impossible": {
    mend: "maker",
    weight: "refuses",
    words: "The batch cannot be worked out: {subject} must be {limit}, and {measured} was given.",
  },
  "make.plan.melt-above-limit": {
    mend: "maker",
    weight: "refuses",
    words:
      "{subject} must be held at {measured} °C to melt clear, but its record says to keep it " +
      "below {limit} °C.",
  },
  "make.plan.sets-above-limit": {
    mend: "maker",
    weight: "refuses",
    words:
      "{subject} must be added below {limit} °C, but this blend already sets at {measured} °C.",
  },
  "make.plan.too-liquid-to-whip": {
    mend: "maker",
    weight: "refuses",
    words:
      "Even at {limit} °C only {measured} % of this blend is solid when fresh: too little to hold air.",
  },
} as const satisfies Record<string, Kind>;
