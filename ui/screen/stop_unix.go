//go:build unix

package screen

import (
	"os"
	"syscall"
)

// toStop is the signal that stops a program until it is continued, as ctrl+z does it elsewhere.
var toStop os.Signal = syscall.SIGTSTP

// stopHere stops the program, whatever becomes of that signal.
func stopHere() { _ = syscall.Kill(os.Getpid(), syscall.SIGSTOP) }
