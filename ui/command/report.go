package command

import (
	"fmt"
	"os"
	"path/filepath"
	"time"

	"bench/oilcan/ui/config"
)

// Report writes down a mistake of the program itself for whoever mends it, in the place of the one
// before, and gives the path.
func Report(env func(string) string, now time.Time, version, what string, stack []byte) (string, error) {
	path := config.ReportFile(env)
	if path == "" {
		return "", os.ErrNotExist
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return "", err
	}
	text := fmt.Sprintf("oilcan %s, %s\n%s\n\n%s", version, now.UTC().Format(time.RFC3339), what, stack)
	return path, os.WriteFile(path, []byte(text), 0o600)
}
