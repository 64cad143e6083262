/**
 * Answers counted in memory since the start, as OpenMetrics counters and a histogram.
 */
import { type Family, type Sample, labelled } from "./open-metrics.ts";
import type { Answered } from "./watch-requests.ts";

/** Upper ends of the classes of the histogram [s]; own choice, from a cached page to a slow till */
const CLASSES_S = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 10] as const;

interface Times {
  readonly classes: number[];
  count: number;
  sumMs: number;
}

export interface RequestCounts {
  readonly count: (answered: Answered) => void;
  readonly families: () => Family[];
}

export function countRequests(): RequestCounts {
  const answers = new Map<string, number>();
  const times = new Map<string, Times>();

  function count({ method, route, status, ms }: Answered): void {
    const key = labelled({ method, route, status: `${Math.floor(status / 100)}xx` });
    answers.set(key, (answers.get(key) ?? 0) + 1);
    const known = times.get(route) ?? { classes: CLASSES_S.map(() => 0), count: 0, sumMs: 0 };
    times.set(route, known);
    known.count += 1;
    known.sumMs += ms;
    const at = CLASSES_S.findIndex((end) => ms <= end * 1000);
    if (at >= 0) known.classes[at]! += 1;
  }

  function families(): Family[] {
    return [
      {
        name: "softset_requests",
        type: "counter",
        help: "Answers by route and class of status.",
        samples: [...answers].map(([labels, value]) => ({ ending: "_total", labels, value })),
      },
      {
        name: "softset_answer_seconds",
        type: "histogram",
        unit: "seconds",
        help: "How long an answer took.",
        samples: [...times].flatMap(([route, each]) => histogram(route, each)),
      },
    ];
  }

  return { count, families };
}

/** Each class holds those below it too, as the format wants. */
function histogram(route: string, { classes, count, sumMs }: Times): Sample[] {
  let sum = 0;
  const samples = CLASSES_S.map((end, at) => {
    sum += classes[at]!;
    // A bound is written as a number with a point, so that every reader takes it for the same one.
    const le = Number.isInteger(end) ? `${end}.0` : String(end);
    return { ending: "_bucket", labels: labelled({ route, le }), value: sum };
  });
  const labels = labelled({ route });
  return [
    ...samples,
    { ending: "_bucket", labels: labelled({ route, le: "+Inf" }), value: count },
    { ending: "_count", labels, value: count },
    { ending: "_sum", labels, value: sumMs / 1000 },
  ];
}
