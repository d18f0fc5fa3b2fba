package store

import (
	"syscall"

	bolt "go.etcd.io/bbolt"
)

// dropPages lets go of the pages of the file that were read through its map: they count as memory
// of the process until then, and are read again where they are needed.
func dropPages(tx *bolt.Tx) {
	if at := tx.DB().Info().Data; at != 0 {
		_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, at, uintptr(tx.Size()),
			syscall.MADV_DONTNEED)
	}
}
