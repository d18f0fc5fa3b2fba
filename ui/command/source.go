package command

import (
	"io"
	"os"
)

// mostImported is how large a file may be, bytes: ten years of daily readings of two dozen machines
// are 4 MB, a book of 100,000 entries is 30 MB.
const mostImported = 256 << 20

// importSource reads the file of a path, or standard input where it is "-", and tells what to call
// it.
func importSource(a *app, path string) (data []byte, name string, err error) {
	if path != "-" {
		data, err = readFile(path)
		return data, path, err
	}
	if a.InputTTY {
		return nil, "", misuse("standard input is the keyboard: give a file, or send one in a pipe")
	}
	data, err = readTable(a.Stdin, "standard input")
	return data, "standard input", err
}

// readFile reads a file a person names, in a sentence where it cannot be.
func readFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		if absent(err) {
			return nil, misuse("there is no file %s: check the path", path)
		}
		return nil, misuse("the file %s cannot be read (%s): check the path", path, reason(err))
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, misuse("%s is a folder: give a file", path)
	}
	return readTable(f, "the file "+path)
}

func readTable(r io.Reader, name string) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, mostImported+1))
	switch {
	case err != nil:
		return nil, misuse("%s cannot be read (%s): check it", name, reason(err))
	case len(data) > mostImported:
		return nil,
			misuse("%s is larger than %d MB, which no table of meter readings and no book is: check what it is",
				name, mostImported>>20)
	}
	return data, nil
}
