package storetest

import (
	"flag"
	"strconv"
	"testing"
)

// Draws has rapid.Check draw so many cases in the rest of a test; where OILCAN_LONG is set, as in
// .ci/run, it draws its usual 100. What -rapid.checks says goes before.
func Draws(t testing.TB, quick int) {
	f := flag.Lookup("rapid.checks")
	if f == nil || f.Value.String() != f.DefValue || Times(quick, 0, 0) == 0 {
		return
	}
	_ = f.Value.Set(strconv.Itoa(quick))
	t.Cleanup(func() { _ = f.Value.Set(f.DefValue) })
}
