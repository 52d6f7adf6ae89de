// Shows the screen the address names. Today is here at once; others are fetched, and the present one stays until they are.
import { useEffect, useErrorBoundary, useState } from "preact/hooks";
import type { ComponentType } from "preact";
import { openAnew } from "./fetched";
import { route, type Route, type ScreenProps } from "./nav";
import { BigButton } from "./parts/buttons";
import { Page } from "./parts/Page";
import { Today } from "./screens/Today";
import { needWords, t } from "./words";
import "./prefs";

type Shown = { route: Route; View: ComponentType<ScreenProps> } | { route: Route; failed: true };

const fetched = new Map<string, ComponentType<ScreenProps>>([["today", Today]]);

async function fetchScreen(path: string): Promise<ComponentType<ScreenProps>> {
  const [{ SCREENS }] = await Promise.all([import("./screens/table"), needWords()]);
  for (const screen of SCREENS) fetched.set(screen.path, screen.View);
  return fetched.get(path) ?? Today;
}

export function App() {
  const wanted = route.value;
  const [shown, setShown] = useState<Shown | null>(null);
  const [round, setRound] = useState(0);
  const ready = fetched.get(wanted.path);
  const [broken, mend] = useErrorBoundary((error) => reportError(error)); // a fault of ours must not cost the other screens
  useEffect(mend, [wanted]);
  useEffect(() => {
    let current = true;
    const show = (next: Shown) => { if (current) setShown(next); };
    if (!ready) fetchScreen(wanted.path).then((View) => show({ route: wanted, View }), () => {
      show({ route: wanted, failed: true });
      if (round) void openAnew(); // the wearer has asked again, and it is still not to be had
    });
    return () => { current = false; };
  }, [wanted, ready, round]);
  const now: Shown | null = ready ? { route: wanted, View: ready } : shown;
  const key = now && now.route.path + "/" + now.route.at.join("/");
  useArrival(key);
  if (broken) return <Failed what={t("common.broken")} again={mend} />;
  if (!now) return <Page title={t("common.loading")} />;
  if ("failed" in now) return <Failed what={t("common.failed")} again={() => setRound(round + 1)} />;
  return <now.View key={key ?? ""} at={now.route.at} />;
}

const Failed = ({ what, again }: { what: string; again: () => void }) => (
  <Page title={t("today.title")} back={{ href: "#/today", name: t("common.today") }} touch={<BigButton onClick={again}>{t("common.again")}</BigButton>}>
    <p role="alert">{what}</p>
  </Page>
);

/** On arrival at another screen: from its top, and readers start at its heading. Not on the first: nobody has moved. */
function useArrival(key: string | null): void {
  const [first] = useState(key);
  const [moved, setMoved] = useState(false);
  useEffect(() => {
    if (key === first && !moved) return;
    setMoved(true);
    scrollTo(0, 0);
    document.querySelector<HTMLElement>("h1")?.focus({ preventScroll: true });
  }, [key]);
}
