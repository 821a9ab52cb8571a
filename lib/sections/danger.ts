export const ELECTRODE_DANGER =
  "Current electrodes carry voltages dangerous to life while a line is measured: nobody touches " +
  "electrodes or cable then, the line is watched over its whole length, and local rules on " +
  "electrical work hold.";
