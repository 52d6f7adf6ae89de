// Spanish, whole and as one file: who reads it has it before the first screen.
import { beside } from "./beside";
import { common as first_common } from "./common";
import { parts } from "./parts";
import { today as first_today } from "./today";

export { said } from "./said";
export { default as signTexts } from "../../../../server/plytide/data/signs.es.json";
export const common = { ...first_common, ...parts };
export const today = { ...first_today, ...beside };
export { about } from "./about";
export { breakin } from "./breakin";
export { clinic } from "./clinic";
export { entry } from "./entry";
export { first } from "./first";
export { limb } from "./limb";
export { more } from "./more";
export { pair } from "./pair";
export { pattern } from "./pattern";
export { places } from "./places";
export { quick } from "./quick";
export { settings } from "./settings";
export { signs } from "./signs";
export { skin } from "./skin";
export { socks } from "./socks";
export { sore } from "./sore";
export { stack } from "./stack";
export { visit } from "./visit";
export { way } from "./way";
