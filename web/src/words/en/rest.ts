// The words of all screens but the first, fetched with them. A new area adds its file beside this one and a line here.
export { about } from "./about";
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
export { socks } from "./socks";
export { sore } from "./sore";
export { stack } from "./stack";
export { way } from "./way";
