//go:build !linux

package store

// networkKind cannot be told on this system: no disk is warned of.
func networkKind(string) string { return "" }

// room cannot be told on this system: a full disk shows at the first save.
func room(string) (free, size int64, ok bool) { return 0, 0, false }
