// Package model is the domain: machines, meters and gauges, procedures as data, the entries of the
// journal and the fold over them. It is pure: no file, no clock, no terminal; times are values.
//
// Every fact is an entry (entry.go) in one append-only journal; what screens show is a fold over
// it (fold.go). Dated facts may come late and may be struck; session facts are ordered by an
// ordinal; structure stays. vocabulary.go and condition.go have the words entries are written in.
//
// # What it holds to
//
//   - Care lists. MachineFact.CareList nil is all that fits: machines from before. Gauges, due and
//     plan are of the list, and of what a finding or other care calls for. starter files make the
//     list of a new machine; a look comes with its full part.
//   - At most. What is not known to be renewed is bounded by the machine's counters (none
//     replaced: Recounts) and the day it was bought new; only where that bound reaches the band is
//     it unknown. A counter told as last time is no day (Undated): the calendar limit is bounded
//     like an unknown one until the care is done again.
package model
