package command

import (
	"errors"
	"io/fs"
	"os"
)

// writeNew writes a file that is not there yet, whole or not at all; instead says what to do where
// it is there.
func writeNew(path string, data []byte, instead string) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return misuse("%s is there already and stays as it is: %s", path, instead)
	}
	if err != nil {
		return misuse("%s cannot be written: %v", path, reason(err))
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Close()); err != nil {
		os.Remove(path)
		return misuse("%s cannot be written: %v", path, reason(err))
	}
	return nil
}
