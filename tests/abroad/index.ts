// The menagerie's door: surveys of other ground, other instruments and other errors, and their scores.

export { BANKS, SECTIONS, type Slopes } from "./earth/slopes.js";
export { ERROR_KINDS, type ErrorKind, type FieldErrors, makeErrors } from "./field/errors.js";
export {
  INSTRUMENT_KINDS,
  type Instrument,
  type InstrumentKind,
  makeInstrument,
} from "./field/instruments.js";
export { type GroundChange, meanLog10 } from "./ground/columns.js";
export { GROUND_KINDS, type GroundKind, makeGround } from "./ground/grounds.js";
export type { Ground } from "./ground/layered-ground.js";
export { type Case, type Judged, judge, WINDOWS_M } from "./judged/judge.js";
export { type ChainJudged, judgeChain } from "./judged/judge-chain.js";
export { errorBetween, type SliceScore, scoreSlices } from "./judged/score.js";
export { scoreBoundaries, scoreChanges } from "./judged/score-stretches.js";
export { rowOf, tableText } from "./judged/table.js";
export { type MadeSurvey, makeSurvey, type SurveyPlan } from "./survey.js";
export type { TruePlace, Truth } from "./truth.js";
export { surveyFiles, writeSurvey } from "./written/folder.js";
export { campaignsOf } from "./written/in-memory.js";
