//go:build !unix

package screen

import "os"

// toStop is nil: there is no such signal here.
var toStop os.Signal

func stopHere() {}
