/**
 * Events out of a machine of one's own. The name is looked up here and the connection goes to the very address that was
 * looked at, so that a name cannot point elsewhere a moment later (DNS rebinding).
 */
import { lookup } from "node:dns";
import { request as requestPlain } from "node:http";
import { request as requestSecure } from "node:https";
import type { LookupFunction } from "node:net";
import { isLoopbackAddress, isPublicAddress, readEndpointUrl } from "./endpoint-address.ts";
import { type EventSender, ForbiddenAddress } from "./senders.ts";

/** @param find looks a name up, `dns.lookup` by its signature; another one in tests */
export function createEventSender(
  mayReachLoopback: boolean,
  find: typeof lookup = lookup,
): EventSender {
  const mayReach = (address: string) =>
    isPublicAddress(address) || (mayReachLoopback && isLoopbackAddress(address));
  return {
    mayReachLoopback,
    post: (url, headers, body, signal) =>
      new Promise((answered, failed) => {
        const read = readEndpointUrl(url, mayReachLoopback);
        if ("fault" in read) {
          failed(new ForbiddenAddress(read.fault));
          return;
        }
        const request = read.url.startsWith("https:") ? requestSecure : requestPlain;
        const sent = request(
          read.url,
          {
            method: "POST",
            headers: { ...headers, "content-length": String(Buffer.byteLength(body)) },
            lookup: guardedLookup(find, mayReach),
            signal,
            agent: false, // a connection of its own: a kept one could outlive what was looked at
          },
          (response) => {
            const retryAfter = response.headers["retry-after"];
            // The status says it all: an answer that never ends is cut off here.
            response.on("error", () => undefined).destroy();
            answered({ status: response.statusCode!, retryAfter });
          },
        );
        sent.on("error", failed);
        sent.end(body);
      }),
  };
}

/** Fails when any of a name's addresses must not be reached: a name that means two places is not trusted in one. */
function guardedLookup(
  find: typeof lookup,
  mayReach: (address: string) => boolean,
): LookupFunction {
  return (hostname, options, done) => {
    find(hostname, { ...options, all: true }, (error, addresses) => {
      if (error) {
        done(error, "", 0);
        return;
      }
      const [first] = addresses;
      if (!first || addresses.some(({ address }) => !mayReach(address))) {
        const fault = `The name ${hostname} leads into a private network.`;
        done(new ForbiddenAddress(fault), "", 0);
      } else if (options.all) done(null, addresses);
      else done(null, first.address, first.family);
    });
  };
}
