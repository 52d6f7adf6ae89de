import type { Words } from "..";

export const settings = { title: "Settings" } satisfies Words;
