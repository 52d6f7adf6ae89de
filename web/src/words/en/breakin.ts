// Breaking in a new socket.
import type { Words } from "../shape";

export const breakin = {
  title: "Break-in",
  none: "No steps entered. Your clinic gives them with a new socket: how long, how often, for how many days.",
  disagree: "Leaflets disagree about the steps, so Plytide has none of its own.",
  slowest: "Use a slow leaflet’s steps for now",
  slowest_small: "30 min once, then 3 times 30, 45, 60 and on, 15 more a day",
  plan: "The plan",
  day: "Day {n}",
  gained: "gained",
  today: "Today’s step: {step}.",
  done: "Every step is gained.",
  step_times: "{time}, {times} times",
  on_for: "On for {n} of {of}.",
  time_up: "On for {n}; the step says {of}. Take the leg off and look at the skin.",
  held_skin: "The last day’s check found something, so the step stays. Ask your clinic before going on.",
  held_no_look: "No skin check was logged on the last day, so the step stays.",
  rule: "A step is gained only by a day with the leg on and every skin check clear. Your clinic’s word goes before this plan.",
  edit: "Change the steps",
  enter: "Your clinic’s steps",
  minutes: "minutes at a time",
  times: "times a day",
  days: "days like this",
  for_days: { one: "for 1 day", other: "for {n} days" },
  add: "Add this step",
  remove: "Take out",
} satisfies Words;
