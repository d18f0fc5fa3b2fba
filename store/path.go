package store

import (
	"io/fs"
	"os"
	"path/filepath"
)

// target is the file a path leads to, through symbolic links, whether it is there or not: what is
// renamed onto a link would take the place of the link.
func target(path string) (string, error) {
	for range 40 { // as many as Linux follows
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil // no link: what it is, is seen when it is opened
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return "", refuse("%s is a symbolic link that leads round in a circle: give the path of a file",
		path)
}

// only refuses a path where something else than a file lies.
func only(path string) error {
	if kind := special(path); kind != "" {
		return refuse("%s is %s: give the path of a file", path, kind)
	}
	return nil
}

// openFile opens a file; nothing else is opened at all.
func openFile(path string, flag int) (*os.File, error) {
	if err := only(path); err != nil {
		return nil, err
	}
	return os.OpenFile(path, flag, 0)
}

// special says what lies at a path where it is no regular file; "" where it is one, or nothing is
// there. Opening a pipe would wait for ever, and a device is no place to keep anything.
func special(path string) string {
	info, err := os.Stat(path)
	if err != nil {
		return ""
	}
	return kindOf(info.Mode())
}

func kindOf(mode fs.FileMode) string {
	switch {
	case mode.IsRegular():
		return ""
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeNamedPipe != 0:
		return "a pipe"
	case mode&fs.ModeSocket != 0:
		return "a socket"
	case mode&fs.ModeDevice != 0:
		return "a device"
	}
	return "no file"
}
