// Until lib/index.ts exports renderAppendix, too.
export { renderAppendix } from "../../lib/appendix/render-appendix.js";
export { checkSurvey, checkText, faultLine } from "../../lib/index.js";
