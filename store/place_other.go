//go:build !linux

package store

// networkKind cannot be told here.
func networkKind(string) string { return "" }

// room cannot be told here.
func room(string) (free, size int64, ok bool) { return 0, 0, false }
