/** What an interrupted cell ends with where it cannot say so itself. */
export const interruptedError = {
  ename: "Interrupted",
  evalue: "the cell was interrupted",
  traceback: ["Interrupted: the cell was interrupted"],
};
