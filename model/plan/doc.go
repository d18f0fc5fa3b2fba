// Package plan orders a care session: which procedure when, with the changes of the machine's
// state between them, so that the person carries least and waits least, and nothing is ever done
// in a state in which it must not be done.
//
// Make takes the procedures of one sitting and gives a Plan; Assemble first adds the proofs and
// bookends that go with them; FitTime chooses what is worth most in the minutes there are. Every plan is
// checked by Verify, which knows the interlocks and shares no code with the search. The refusals
// in refusal.go are the same interlocks, said as sentences, for the walk.
//
// The order is exact: an A* search (Hart, Nilsson, Raphael 1968) over what is done, what is in
// the hand and the state of the machine, with set-up actions as steps of their own. Its objective
// is lexicographic: cost, waiting, number of set-up actions, set-ups as late as possible, and of
// the sequences still equal the one whose ids come first in the alphabet, with those that take the power away before
// all others.
//
// The package is pure: no file, no clock, no randomness.
package plan
