package storetest

import (
	"os"
	"runtime/debug"
)

// Tests make much and keep little. As in main, their garbage is collected when the heap is five
// times what lives, below a limit; at the usual twice it took a quarter of all they did.
func init() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400)
	}
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(256 << 20)
	}
}
