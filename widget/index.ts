/**
 * The widget's one script: registers `<softset-composer>` and exports its class and event types.
 */
import "./blend-composer-define.ts";

export { BlendComposer } from "./blend-composer.ts";
export type { ChangeDetail, ComposerEvents, ProblemDetail } from "./events.ts";
