//go:build !linux

package outside

// shellFor and the little shell are for tests of Linux alone.
const shellFor = "OILCAN_TEST_SHELL"

func littleShell([]string) int { return 1 }
