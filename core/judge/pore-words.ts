/**
 * What a pore rating is and is not, in our own words, to stand beside every figure.
 *
 * What the words rest on: Fulton 1989, J Soc Cosmet Chem 40:321 (single raw materials, rabbit ear, graded 0 to 5; the
 * vehicle and the preparation move the grade); Draelos & DiNardo 2006, J Am Acad Dermatol 54:507 (finished products
 * with such ingredients need not do the same on people); Kligman 1996, J Soc Cosmet Chem 47:41 (laboratories differ).
 */
/** Sentences to print as they stand. */
export const PORE_WORDS: readonly string[] = [
  "The scale runs from 0 to 5. It comes from tests in which a single ingredient was put on rabbit ears.",
  "It was made on ingredients, not on this blend or any other finished jar, and on ears, not on people.",
  "The same ingredient has scored differently by supplier, by what it was dissolved in and by laboratory.",
  "Nobody has published a rule for mixtures. The shop goes by the highest figure in the blend, because that is the careful choice.",
  "Unrated means that no figure was found. It does not mean 0.",
  "A low figure promises nothing about your skin. Try a little first, and ask a doctor about acne.",
];
