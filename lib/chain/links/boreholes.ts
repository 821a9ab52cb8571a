import { countText } from "../../step/show/html.js";
import type { Survey } from "../../survey/survey.js";
import { type Link, nothingYet, type Readiness } from "../link.js";

/** Boreholes are not sited yet. */
export const boreholesLink: Link = {
  step: { name: "siteBoreholes", options: {} },
  gives: "boreholes",
  takes: ["seepage"],
  isPick: true,
  run: nothingYet,
  readiness: { step: "boreholes", of: readiness },
  absent: () => "Boreholes are not sited in this version: none is proposed.",
};

function readiness({ boreholes }: Survey): Readiness {
  const logged = boreholes.filter(({ strata }) => strata.length > 0).length;
  const text =
    boreholes.length > 0
      ? `${countText(boreholes.length, "borehole")}, ${logged} with strata, to name classes by`
      : "no boreholes; classes cannot be named from local ground";
  return {
    ready: false,
    text: `${text}; sites are not worked out in this version`,
    cannot: logged > 0 ? "" : "name classes of ground by local boreholes",
  };
}
