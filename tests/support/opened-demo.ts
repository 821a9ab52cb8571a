import { openSurvey } from "../../lib/place/open-survey.js";
import { once } from "./once.js";

/** The demo survey as `openSurvey` gives it, once for all tests of a worker; to be read only. */
export const openedDemo = once(() => openSurvey("data-demo/sedgeholm"));
