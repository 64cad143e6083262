/**
 * Scripts that lie beside this one and are fetched when they are first needed.
 */

/** Of the script that this is; in the classic script the build writes `document.currentScript.src` here. */
const HERE = import.meta.url;
const fetched = new Map<string, Promise<unknown>>();
let misses = 0;

/**
 * Fetch a module once for all composers of a page.
 * @param file such as "softset.nearest.js"
 * @throws when it cannot be had; some browsers remember a failure, so another try has another address
 */
export function fetchBeside<Module>(file: string): Promise<Module> {
  const known = fetched.get(file);
  if (known) return known as Promise<Module>;
  const again = misses > 0 ? `?again=${misses}` : "";
  const module = import(new URL(file + again, HERE).href) as Promise<Module>;
  fetched.set(file, module);
  module.catch(() => {
    fetched.delete(file);
    misses += 1;
  });
  return module;
}
