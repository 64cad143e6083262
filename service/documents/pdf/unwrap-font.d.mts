/** TrueType file of a font that comes as WOFF 1.0. */
export function unwrapFont(woff: Buffer): Buffer;
