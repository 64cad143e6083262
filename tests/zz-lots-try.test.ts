import { it } from "vitest";
import { eq } from "drizzle-orm";
import { lots } from "#data/schema.ts";
import { openTestShop } from "./helpers/shop.ts";
it("x", async () => {
  const shop = await openTestShop();
  const owner = await shop.signIn();
  const send = (path: string, f: [string, string][] = []) => shop.request(path, { method: "POST", headers: { "sec-fetch-site": "same-origin", cookie: owner, accept: "text/html", "content-type": "application/x-www-form-urlencoded" }, body: new URLSearchParams(f) });
  const cert = (s: number) => JSON.stringify({ fattyAcids: { "16:0": 4.04, "18:0": s, "18:1": 87.88 - s, "18:2": 6.32, "18:3": 0.21, "20:0": 1.55 } });
  const set = (c: string) => shop.db.atomic([shop.db.q.update(lots).set({ certificate: c }).where(eq(lots.code, "TB-2207"))]);
  await set(cert(35.73));
  const { token } = await shop.quote();
  const order = (await (await shop.post("/v1/orders", { quote: token })).json()) as any;
  await send(`${new URL(order.payUrl).pathname}/pay`, [["name", "W"], ["email", "w@c.example"]]);
  const id = new URL(order.orderUrl).pathname.split("/")[2]!;
  const n = (await send("/maker/batches", [["order", id]])).headers.get("location")!.split("/").at(-1)!;
  for (const s of [43.73, 35.73, 28.73]) { await set(cert(s)); for (const where of ["", "/sheets", "/correction/1"]) for (let i = 0; i < 3; i++) {
    const c = process.cpuUsage();
    await (await shop.request(`/maker/batches/${n}${where}`, { headers: { cookie: owner, accept: "text/html" } })).text();
    const u = process.cpuUsage(c);
    console.log(s, where, ((u.user + u.system) / 1000).toFixed(0));
  } }
}, 60000);
