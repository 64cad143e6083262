/** The one class of the package that is used, as CommonJS hands it over. */
declare module "jsbarcode/bin/barcodes/CODE128/CODE128_AUTO.js" {
  type Code128 = new (text: string, options: object) => { encode(): { readonly data: string } };
  const loaded: Code128 | { readonly default: Code128 };
  export default loaded;
}
