/** The notebook that `new` writes into the survey folder, and `appendix` runs where it is there. */
export const startNotebook = "interpretation.ipynb";
