import { acrossStep, compareInterference } from "../../interference/across/compare-interference.js";
import { ask, type Link } from "../link.js";

export const acrossLink: Link = {
  step: acrossStep,
  gives: "across",
  takes: ["masked"],
  run: function* ({ masked }) {
    return masked.length > 1 ? yield* ask(compareInterference, masked) : undefined;
  },
};
