package storetest

import (
	"os"
	"testing"
)

// Lacks skips a test where what it needs is not there: a pseudo terminal, a shell. Where everything
// must have run, as .ci/run does with OILCAN_LONG, it fails.
func Lacks(t testing.TB, what string, err error) {
	t.Helper()
	if os.Getenv("OILCAN_LONG") != "" {
		t.Fatalf("not tested for want of %s: %v", what, err)
	}
	t.Skipf("not tested for want of %s: %v", what, err)
}

// Times is how often a proof is run: quick in a plain test run, ci where .ci/run sets OILCAN_LONG,
// full where OILCAN_PROOFS is set.
func Times(quick, ci, full int) int {
	switch {
	case os.Getenv("OILCAN_PROOFS") != "":
		return full
	case os.Getenv("OILCAN_LONG") != "":
		return ci
	}
	return quick
}
