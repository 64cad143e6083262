/** Stands at the edge for the reader of pictures that the writer of PDFs brings along: our papers hold drawings only. */
module.exports = {
  decode() {
    throw new Error("no picture is read here");
  },
};
