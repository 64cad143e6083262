/**
 * A request to a server of this machine under a host name: what a browser sends once a name leads here.
 */
import { request as send } from "node:http";

/**
 * @param host the name that is asked for, with or without a port
 * @param path sent as it is, so also the absolute form of a proxy
 * @param init as `fetch` takes it
 */
export async function askHost(
  port: number,
  host: string,
  path: string,
  init: RequestInit = {},
): Promise<Response> {
  const asked = new Request("http://127.0.0.1/", init);
  const body = Buffer.from(await asked.arrayBuffer());
  const headers = { ...Object.fromEntries(asked.headers), host };
  return await new Promise((resolve, reject) => {
    const sent = send({ port, path, method: asked.method, headers, agent: false }, (answer) => {
      const chunks: Buffer[] = [];
      answer.on("data", (chunk: Buffer) => chunks.push(chunk));
      answer.on("error", reject);
      answer.on("end", () => {
        const had = Object.entries(answer.headersDistinct).flatMap(([name, values]) =>
          values!.map((value): [string, string] => [name, value]),
        );
        const text = Buffer.concat(chunks);
        const isEmpty = [204, 304].includes(answer.statusCode!);
        resolve(new Response(isEmpty ? null : text, { status: answer.statusCode!, headers: had }));
      });
    });
    sent.on("error", reject);
    sent.end(body);
  });
}
