//go:build unix && !solaris && !aix

package store

import (
	"errors"
	"os"
	"syscall"
)

// unlock gives up the lock bbolt took; closing the file alone does not while it is mapped.
func unlock(f *os.File) { _ = syscall.Flock(int(f.Fd()), syscall.LOCK_UN) }

// tryLock takes the lock bbolt takes, which the same open file may take again; false where another
// process has it.
func tryLock(f *os.File) bool {
	return !errors.Is(syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB),
		syscall.EWOULDBLOCK)
}

// alive tells whether there is a process of a number.
func alive(pid int) bool { return !errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) }
