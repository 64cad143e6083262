/**
 * Refunds and disputes inside the stand-in for Stripe's API. The charge's own sums always follow from them, as at the
 * real service: a refund counts from when it is made until it has failed.
 */
import { randomUUID } from "node:crypto";
import type { Refusal, SessionRecord } from "./stripe-session-record.ts";

export interface RefundRecord {
  readonly id: string;
  readonly object: "refund";
  readonly amount: number;
  readonly charge: string;
  readonly payment_intent: string;
  readonly metadata: Readonly<Record<string, string>>;
  status: string;
  failure_reason?: string;
}

export interface DisputeRecord {
  readonly id: string;
  readonly object: "dispute";
  readonly amount: number;
  readonly currency: string;
  readonly charge: string;
  readonly payment_intent: string;
  readonly reason: string;
  readonly created: number;
  status: string;
}

interface RefundForm {
  payment_intent?: string;
  amount?: string;
  metadata?: Record<string, string>;
}

const REFUND_FIELDS = ["payment_intent", "amount", "metadata"];

/** @param now seconds since 1970 */
export function keepMoneyBack(sessions: ReadonlyMap<string, SessionRecord>, now: () => number) {
  const refunds: RefundRecord[] = [];
  const disputes: DisputeRecord[] = [];
  const newId = (kind: string) => `${kind}_${randomUUID().replaceAll("-", "")}`;
  const byPayment = (id: string | undefined) =>
    [...sessions.values()].find(({ paymentId, isPaid }) => paymentId === id && isPaid);

  /** The charge says what its refunds and disputes say. */
  function reckon({ charge, paymentId }: SessionRecord): void {
    charge.amount_refunded = refunds
      .filter(({ payment_intent: of, status }) => of === paymentId && !isOff(status))
      .reduce((sum, { amount }) => sum + amount, 0);
    charge.disputed = disputes.some(
      ({ payment_intent: of, status }) => of === paymentId && !status.startsWith("warning_"),
    );
  }

  /** @param status what becomes of it at once */
  function make(session: SessionRecord, amount: number, metadata = {}, status = "succeeded") {
    const { paymentId, charge } = session;
    const own = { id: newId("re"), object: "refund" as const, amount, metadata, status };
    const refund: RefundRecord = { ...own, charge: charge.id, payment_intent: paymentId };
    refunds.unshift(refund);
    reckon(session);
    return refund;
  }

  return {
    refunds,
    disputes,
    make,
    /** Carry out the form of a refund. */
    create(form: Readonly<Record<string, unknown>>, status?: string): RefundRecord | Refusal {
      const unknown = Object.keys(form).find((name) => !REFUND_FIELDS.includes(name));
      if (unknown) return refuse("parameter_unknown", unknown);
      const { payment_intent: payment, amount, metadata } = form as RefundForm;
      const session = byPayment(payment);
      if (!session) return refuse("resource_missing", "payment_intent");
      if (!/^[1-9]\d*$/.test(amount ?? "")) return refuse("parameter_invalid_integer", "amount");
      const left = session.charge.amount - session.charge.amount_refunded;
      if (left === 0) return refuse("charge_already_refunded", "payment_intent");
      if (Number(amount) > left) return refuse("refund_amount_too_large", "amount");
      return make(session, Number(amount), metadata, status);
    },
    /** Let a refund end in another way. */
    end(id: string, status: "succeeded" | "failed" | "canceled") {
      const refund = refunds.find((each) => each.id === id)!;
      refund.status = status;
      if (status === "failed") refund.failure_reason = "expired_or_canceled_card";
      reckon(byPayment(refund.payment_intent)!);
      return refund;
    },
    /** Open a dispute, or bring the one that is there to another status. */
    dispute(session: SessionRecord, status = "needs_response") {
      const { paymentId, charge } = session;
      let dispute = disputes.find((each) => each.payment_intent === paymentId);
      if (dispute) dispute.status = status;
      else {
        const about = {
          charge: charge.id,
          payment_intent: paymentId,
          reason: "product_not_received",
        };
        const sum = {
          amount: charge.amount,
          currency: "gbp",
          created: Math.floor(now()),
        };
        dispute = { id: newId("du"), object: "dispute", ...about, ...sum, status };
        disputes.unshift(dispute);
      }
      reckon(session);
      return dispute;
    },
    listOf: (list: "refunds" | "disputes", payment: string) => ({
      ...{ object: "list", url: `/v1/${list}`, has_more: false },
      data: { refunds, disputes }[list].filter(({ payment_intent: of }) => of === payment),
    }),
  };
}

function isOff(status: string): boolean {
  return status === "failed" || status === "canceled";
}

function refuse(code: string, param: string): Refusal {
  return { status: 400, error: { code, param, message: `${code}: ${param}` } };
}
