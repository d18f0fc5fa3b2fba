package store

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// roomWanted is how much room is to be left for a day's work and a backup beside the file's own
// size.
const roomWanted = 16 << 20

// syncedWords are found in the names of folders that programs keep which copy files between
// computers (common practice); such a program may copy the file in the middle of a write.
var syncedWords = []string{"sync", "cloud", "drive"}

// synced tells whether a folder's name looks like one of these.
func synced(name string) bool {
	name = strings.ToLower(name)
	return slices.ContainsFunc(syncedWords, func(w string) bool {
		return strings.Contains(name, w)
	})
}

// PlaceWarning says in a sentence what speaks against the place of a data file: a network file
// system, a folder that is synchronised, a disk nearly full; "" where nothing does. It is advice:
// the store works there as well as the place lets it.
func PlaceWarning(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		return ""
	}
	if real, err := filepath.EvalSymlinks(filepath.Dir(abs)); err == nil {
		abs = filepath.Join(real, filepath.Base(abs))
	}
	if kind := networkKind(filepath.Dir(abs)); kind != "" {
		return fmt.Sprintf("%s lies on a network file system (%s), where two programs can destroy it: keep it on this computer's own disk and put backups there", abs, kind)
	}
	for dir := filepath.Dir(abs); dir != filepath.Dir(dir); dir = filepath.Dir(dir) {
		if name := filepath.Base(dir); synced(name) {
			return fmt.Sprintf("%s lies in the folder %s, which looks as if it were synchronised: keep the data file elsewhere and put backups there", abs, name)
		}
	}
	if free, size, ok := room(abs); ok && free < size+roomWanted {
		return fmt.Sprintf("the disk of %s is nearly full (%d MB left): free some space", abs,
			free>>20)
	}
	return ""
}
