/**
 * Which addresses signed events may go to. Whoever types an address makes the shop's own machine call it, so nothing
 * inside a network may be reached this way (server-side request forgery).
 */
import ipaddr from "ipaddr.js";

export type EndpointUrl = { readonly url: string } | { readonly fault: string };

const NAMES_OF_INSIDE = /(^|\.)(localhost|local|internal|intranet|lan|home|corp|home\.arpa|onion)$/;
const URL_MOST = 500;

/**
 * Look at an address as it was typed. What a name leads to is looked at again when something is sent.
 * @param mayReachLoopback whether this machine itself is allowed, also over plain http and on any port
 * @returns the address as it will be called, or one sentence that says what to do
 */
export function readEndpointUrl(typed: string, mayReachLoopback: boolean): EndpointUrl {
  const text = typed.trim();
  if (text.length > URL_MOST || !URL.canParse(text)) {
    return { fault: "Type a whole address, such as https://shop.example/events." };
  }
  const url = new URL(text); // reads 0x7f.1, 2130706433 and the like as what they mean
  const host = url.hostname.replace(/\.$/, "").toLowerCase();
  if (mayReachLoopback && /^https?:$/.test(url.protocol) && isLoopbackHost(host)) {
    return url.username === "" && url.password === ""
      ? { url: url.href }
      : { fault: "Leave name and password out of the address." };
  }
  if (url.protocol !== "https:") return { fault: "The address must begin with https://." };
  if (url.username !== "" || url.password !== "") {
    return { fault: "Leave name and password out of the address: events are signed instead." };
  }
  if (url.port !== "")
    return { fault: "Leave the port out: events go to the usual port of https." };
  const bare = host.replace(/^\[|\]$/g, "");
  const isInside = ipaddr.isValid(bare)
    ? !isPublicAddress(bare)
    : !host.includes(".") || NAMES_OF_INSIDE.test(host);
  if (isInside) {
    return {
      fault: "This address lies inside a private network. Events go to public addresses only.",
    };
  }
  return { url: url.href };
}

/**
 * Whether an IP address is one of the open internet: not private, loopback, link-local, shared (RFC 6598), reserved,
 * multicast or a tunnel that could lead to one of these. An IPv4 address written as IPv6 counts as what it is.
 */
export function isPublicAddress(address: string): boolean {
  return ipaddr.isValid(address) && ipaddr.process(address).range() === "unicast";
}

/** Whether an IP address is this machine. */
export function isLoopbackAddress(address: string): boolean {
  return ipaddr.isValid(address) && ipaddr.process(address).range() === "loopback";
}

function isLoopbackHost(host: string): boolean {
  return host === "localhost" || isLoopbackAddress(host.replace(/^\[|\]$/g, ""));
}
