// A sentence of the server's, which speaks English. Where there are no words of our own for it, it is marked as English, so
// that a screen reader says it so.
import { lang, said } from "../words";

/** `own`: the sentence in the language spoken, where that is not found by the sentence itself. */
export const Said = ({ text, own = said(text) }: { text: string; own?: string }) => (own !== text || lang.value === "en" ? <>{own}</> : <span lang="en">{text}</span>);
