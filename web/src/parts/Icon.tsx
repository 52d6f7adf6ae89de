// Plytide's own icons: 24 grid, 2 px round stroke, always beside a word. Circles are paths so that each icon is one string.
// Those of the first screen are here; icons.ts adds the others.
import type { MORE_ICONS } from "./icons";

const PHONE = "M9.5 2.5h5A2.5 2.5 0 0 1 17 5v14a2.5 2.5 0 0 1-2.5 2.5h-5A2.5 2.5 0 0 1 7 19V5a2.5 2.5 0 0 1 2.5-2.5Z";

const FIRST_ICONS = {
  plus: "M12 4v16M4 12h16",
  minus: "M4 12h16",
  spot: "M7 3c-.6 5-.6 9 .6 13 .8 2.9 2.3 5 4.4 5s3.6-2.1 4.4-5c1.2-4 1.2-8 .6-13M9.9 11a2.6 2.6 0 1 0 5.2 0 2.6 2.6 0 1 0-5.2 0",
  mirror: "M6 9a6 6 0 1 0 12 0A6 6 0 1 0 6 9M12 15v6.5M9.5 21.5h5M9.3 8.5a3 3 0 0 1 2-2.2",
  off: "M6 10c0 6 1.5 11 6 11s6-5 6-11M12 15V3M8.5 6.5 12 3l3.5 3.5",
  on: "M6 10c0 6 1.5 11 6 11s6-5 6-11M12 3v12M8.5 11.5 12 15l3.5-3.5",
  more: "M4 7h16M4 12h11M4 17h6",
  phone: PHONE + "M10 15h.01M12 15h.01M14 15h.01",
  phone_cut: "M7 8V5a2.5 2.5 0 0 1 2.5-2.5h5A2.5 2.5 0 0 1 17 5v9M17 18.5a2.5 2.5 0 0 1-2.5 3h-5A2.5 2.5 0 0 1 7 19v-6M3.5 4.5l17 15.5",
  phone_ok: PHONE + "M9.5 12.5l2 2 3.3-4",
  phone_bad: PHONE + "M12 7.5V13M12 16.5h.01",
  phone_saving: PHONE + "M7.5 15.5c2-1.5 5 1 9-.6",
  back: "M14.5 5 8 12l6.5 7",
  help: "M9.2 9.4a2.8 2.8 0 1 1 4.2 2.4c-.9.5-1.4 1.1-1.4 2.2M12 17h.01M3.5 12a8.5 8.5 0 1 0 17 0 8.5 8.5 0 1 0-17 0",
  list: "M9 6h11M9 12h11M9 18h11M4 6h.01M4 12h.01M4 18h.01",
};

export type IconName = keyof typeof FIRST_ICONS | keyof typeof MORE_ICONS;

const icons: Partial<Record<IconName, string>> = { ...FIRST_ICONS };

export const addIcons = (more: typeof MORE_ICONS): void => void Object.assign(icons, more);

export const Icon = ({ name }: { name: IconName }) => (
  <svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path d={icons[name]} /></svg>
);
