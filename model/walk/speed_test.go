package walk_test

import "testing"

// BenchmarkAnswer judges one answer late in the monthly sitting, with all that follows from it: what the
// person waits for beside the synced write.
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
