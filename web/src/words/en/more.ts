import type { Words } from "..";

export const more = { title: "More" } satisfies Words;
