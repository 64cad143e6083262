/** Style sheets are bundled as text, minified (`bundle.mjs`). */
declare module "*.css" {
  const text: string;
  export default text;
}
