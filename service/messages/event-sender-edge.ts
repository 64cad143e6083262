/**
 * Events out of the edge. A Worker stands in no private network, so the address as it is written is all there is to
 * look at.
 */
import { readEndpointUrl } from "./endpoint-address.ts";
import { type EventSender, ForbiddenAddress } from "./senders.ts";

export function createEdgeEventSender(mayReachLoopback: boolean): EventSender {
  return {
    mayReachLoopback,
    post: async (url, headers, body, signal) => {
      const read = readEndpointUrl(url, mayReachLoopback);
      if ("fault" in read) throw new ForbiddenAddress(read.fault);
      const answer = await fetch(read.url, {
        method: "POST",
        headers: { ...headers },
        body,
        redirect: "manual",
        signal,
      });
      await answer.body?.cancel(); // the status says it all
      return { status: answer.status, retryAfter: answer.headers.get("retry-after") ?? undefined };
    },
  };
}
