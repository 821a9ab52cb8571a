export { renderSvg } from "../../lib/result/render-svg.js";
