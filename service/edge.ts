/**
 * The edge: what `wrangler.toml` deploys. An isolate has one Worker.
 */
import { createWorker } from "./worker.ts";

export default createWorker();
