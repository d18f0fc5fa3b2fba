// Package plan orders a care session: which procedure when, with the changes of the machine's
// state between them, so that the person carries least and waits least, and nothing is ever done
// in a state in which it must not be done.
//
// Make takes the procedures of one session and gives a Plan; Assemble first adds the proofs and
// bookends that go with them; FitTime chooses what is worth most in the minutes there are. Every
// plan is checked by Verify, which knows the interlocks and shares no code with the search. The
// refusals in refusal.go are the same interlocks, said as sentences, for the walk.
//
// The order is exact: an A* search (Hart, Nilsson, Raphael 1968) over what is done, what is in the
// hand and the state of the machine, with set-up actions as steps of their own. Its objective is
// lexicographic: cost, waiting, number of set-up actions, set-ups as late as possible, and of the
// sequences still equal the one whose ids come first in the alphabet, with those that take the
// power away before all others.
//
// The package is pure: no file, no clock, no randomness.
//
// # What it holds to
//
//   - What is measured stone cold comes before anything heats, set-up actions too
//     (model/plan/stone.go): not a bit of the state but a rule of the search, since it bears on
//     jobs to come. Hot, or heated in the session, the plan leaves it for another day and says so;
//     where nobody read the heat it is planned from a machine that stood off.
//   - close-out needs no state, so to the search its place among the set-up actions at the end is
//     free; it is moved behind them, since it counts the machine whole and says how it is handed
//     back.
//   - The minutes one has (plan.FitTime, for --minutes, t and getting to know a machine). A choice
//     is worth the chance it takes away of being past the band by the next care (Forecaster.Drop):
//     what guards a person first, then the sum, then how many items, then fewer minutes. An age of
//     at most N lies evenly from 0 to N; a renewal nobody knows of is told by its look; what a
//     finding or other care calls for counts as past. The minutes are the whole session's, so
//     set-up, proofs and bookends are paid once (plan/fit_least.go: the least any order takes, by
//     Dijkstra, one search for all sets that need the machine alike). Exact for 20 candidates; of
//     more, the 20 worth most a minute are chosen from first and the next only where all of them
//     are in, which keeps "more time never buys less" true by itself, and the plan says what no
//     choice could exceed. --with, and space on a line that was left out, put it in whatever it
//     takes. Where the cheapest order takes longer than there is time, the quickest order is
//     taken.
package plan
