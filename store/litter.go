package store

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// A file in the making stands beside its place under a name with the number of the process that
// makes it. What a killed one left is removed at the next start.
const tempPrefix = ".oilcan-"

// asideTime is how the names of files moved aside say when they were last written.
const asideTime = "20060102T150405Z"

func tempName() string { return fmt.Sprintf("%scopy-%d-*", tempPrefix, os.Getpid()) }

// emptyTemp makes an empty file of that kind in a folder.
func emptyTemp(dir string) (string, error) {
	f, err := os.CreateTemp(dir, tempName())
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// sweep removes from the folder of a data file what killed programs left in the making. What cannot
// be removed stays: it harms nothing.
func sweep(path string) {
	dir := filepath.Dir(path)
	files, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, f := range files {
		if f.Type().IsRegular() && litter(f.Name(), filepath.Base(path)) {
			os.Remove(filepath.Join(dir, f.Name()))
		}
	}
}

// litter tells whether a file was in the making by a process that is no more, or by an older program,
// whose names had no number.
func litter(name, of string) bool {
	if rest, old := strings.CutPrefix(name, of+".restoring"); old {
		return rest == "" || strings.HasPrefix(rest, ".")
	}
	rest, mine := strings.CutPrefix(name, tempPrefix)
	if !mine {
		return false
	}
	words := strings.Split(rest, "-")
	if len(words) == 2 {
		return words[0] == "new" || words[0] == "copy"
	}
	if len(words) != 3 || words[0] != "copy" {
		return false
	}
	pid, err := strconv.Atoi(words[1])
	return err == nil && pid > 0 && pid != os.Getpid() && !alive(pid)
}

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
	return "", refuse("%s is a symbolic link that leads round in a circle: give the path of a file", path)
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
