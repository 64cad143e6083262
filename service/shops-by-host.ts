/**
 * Several shops in one process or Worker: which of them a request is for. The host name it was sent to says so, and
 * nothing else does, so that no shop ever answers for another.
 */
import { Refusal } from "./problem.ts";

const LABEL = "[a-z0-9](?:[a-z0-9-]{0,61}[a-z0-9])?";
const HOST_NAME = new RegExp(`^${LABEL}(?:\\.${LABEL})*$`);
/** RFC 1035 section 2.3.4, without the final dot [characters] */
const HOST_NAME_MOST = 253;

/** Whether a text is a host name as requests carry it: lower case, other scripts as xn-- (RFC 1123, RFC 5891). */
export function isHostName(text: string): boolean {
  return text.length <= HOST_NAME_MOST && HOST_NAME.test(text);
}

/** The name a request was sent to, without its port and final dot. */
export function hostOf({ url }: Pick<Request, "url">): string {
  return new URL(url).hostname.replace(/\.$/, "");
}

/**
 * Where a shop is reached when its settings do not say: by https, and on this machine itself as the process listens.
 * @param port where it listens; nothing at the edge
 */
export function urlOfHost(host: string, port?: number): string {
  const isHere = host === "localhost" || host.endsWith(".localhost");
  return isHere && port !== undefined ? `http://${host}:${port}` : `https://${host}`;
}

/** For a request to a name that no shop has here. */
export function noSuchShop(host: string): Refusal {
  return new Refusal(
    "request.host.unknown",
    `There is no shop called ${host} here, and nothing was done. Please check the address. If you run this server: a ` +
      "proxy in front of it must pass the host name on unchanged.",
  );
}
