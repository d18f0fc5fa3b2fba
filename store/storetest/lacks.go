package storetest

import (
	"os"
	"testing"
)

// Lacks skips a test where what it needs is not there: a pseudo terminal, a shell. Where everything must have run, as
// .ci/run does with OILCAN_LONG, it fails.
func Lacks(t testing.TB, what string, err error) {
	t.Helper()
	if os.Getenv("OILCAN_LONG") != "" {
		t.Fatalf("not tested for want of %s: %v", what, err)
	}
	t.Skipf("not tested for want of %s: %v", what, err)
}
