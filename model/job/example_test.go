package job_test

import (
	"context"
	"fmt"
	"strings"

	"bench/oilcan/model/job"
)

// A print file is read as a stream, and what it costs is counted.
func ExampleScan() {
	const file = "M83\nG1 X10 Y0 F3000\nT0\nG1 X20 E0.5\nT1\nG1 X10 E0.5\nG1 E-0.8\nM600\n"
	reports, err := job.Scan(context.Background(), strings.NewReader(file), int64(len(file)),
		job.Options{})
	r := reports[0]
	fmt.Println(r.Moves, "moves,", r.Changes(), "filament changes, by hand", r.ManualChanges, err)
	// Output:
	// 4 moves, 2 filament changes, by hand 1 <nil>
}
