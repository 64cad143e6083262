/**
 * Registers the element; the only file with that side effect.
 */
import { BlendComposer } from "./blend-composer.ts";

declare global {
  interface HTMLElementTagNameMap {
    "softset-composer": BlendComposer;
  }
}

if (!customElements.get("softset-composer")) {
  customElements.define("softset-composer", BlendComposer);
}
