/** Stands at the edge for the packer that the writer of PDFs brings along: ours is packed before (`deflate.ts`). */
/* global module */
module.exports = {};
