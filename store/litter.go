package store

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"bench/oilcan/model"
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

// litter tells whether a file was in the making by a process that is no more, or by an older
// program, whose names had no number.
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
	pid, err := model.ReadCount(words[1], "", math.MaxInt32)
	return err == nil && pid > 0 && pid != os.Getpid() && !alive(pid)
}
