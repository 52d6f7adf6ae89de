// What stands beside the number and the buttons, in a script of its own: the buttons need not wait for it.
import "../parts/icons";
import { learn } from "../words";
import { beside as today } from "../words/en/beside";
import { parts as common } from "../words/en/parts";

learn({ common, today });

export { Segment } from "../parts/choices";
export { Troubles } from "../parts/Troubles";
export { AskedRow } from "./Asked";
export { tapStep } from "./says";
export { keepsOff, SignsNow } from "./SignsNow";
export { SkinAsk } from "./SkinAsk";
export { inShort, StepButtons, stepReading } from "./Steps";
export { TodayFigure } from "./TodayFigure";
export { Welcome } from "./Welcome";
export { WhyRow } from "./WhyRow";
