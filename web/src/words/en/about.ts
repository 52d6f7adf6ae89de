import type { Words } from "..";

export const about = { title: "About" } satisfies Words;
