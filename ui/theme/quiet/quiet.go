// Package quiet keeps the terminal from being asked for its background colour at start-up. The
// screen library asks in its own initialisation, in every command of a binary that links it, and a
// terminal that does not answer costs five seconds. Packages are initialised in the order of their
// import paths, so main imports this one, which imports nothing but the styling library and sorts
// before it is used elsewhere.
package quiet

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
