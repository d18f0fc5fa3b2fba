package store

import (
	"os"
	"path/filepath"
	"syscall"
)

// networkKinds are the file system types of statfs(2) on which locks or the order of writes cannot
// be relied on (linux/magic.h).
var networkKinds = map[uint32]string{
	0x6969: "NFS", 0x517B: "SMB", 0xFF534D42: "CIFS", 0xFE534D42: "SMB2", 0x01021997: "9P",
	0x65735546: "FUSE",
}

// networkKind names the network file system a folder lies on, "" where it is none.
func networkKind(dir string) string {
	var st syscall.Statfs_t
	if syscall.Statfs(dir, &st) != nil {
		return ""
	}
	return networkKinds[uint32(st.Type)]
}

// room is how many bytes are free for a file to grow, and how large it is.
func room(path string) (free, size int64, ok bool) {
	var st syscall.Statfs_t
	if syscall.Statfs(filepath.Dir(path), &st) != nil {
		return 0, 0, false
	}
	if info, err := os.Stat(path); err == nil {
		size = info.Size()
	}
	return int64(st.Bavail) * int64(st.Bsize), size, true
}
