package walk_test

import "testing"

// BenchmarkAnswer judges one answer late in the monthly session, with all that follows from it:
// what the person waits for beside the synced write.
//
// Measured on two shared cores (Go 1.26, 2026-11-25), other work running: judging one answer late
// in the monthly session, all that follows from it included: 0.7 ms.
func BenchmarkAnswer(b *testing.B) {
	lib := library(b)
	r := begin(b, lib, machine(lib, "full"), monthly...)
	reach(b, r, "close-out", "parts")
	b.ReportMetric(float64(len(r.J.Entries)), "entries")
	for b.Loop() {
		if _, err := r.W.Answer(r.Context(), "-"); err != nil {
			b.Fatal(err)
		}
	}
}
