/**
 * Whose request it is, by network address: IPv6 by the 64 bits of a subnet (RFC 4291), because whoever has them has all
 * addresses below.
 */
import ipaddr from "ipaddr.js";

const SUBNET_BYTES = 8;

/**
 * @param remote the other end of the connection
 * @param forwarded X-Forwarded-For, when a proxy of one's own stands before the shop: only its last entry is that
 *   proxy's, the others are whatever the client wrote
 * @returns what requests are counted by; nothing for this machine itself, or when there is no address to be read
 */
export function clientAddress(remote: string | undefined, forwarded?: string): string | undefined {
  const text = forwarded?.split(",").at(-1)?.trim() ?? remote ?? "";
  if (!ipaddr.isValid(text)) return undefined;
  const address = ipaddr.process(text); // IPv4 written as IPv6 is IPv4
  if (address.range() === "loopback") return undefined;
  if (address.kind() === "ipv4") return address.toString();
  return address.toByteArray().slice(0, SUBNET_BYTES).join(".");
}
