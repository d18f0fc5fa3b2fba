package life_test

import (
	"fmt"

	"bench/oilcan/model/life"
)

// Ten units failed and ten were still running at 500 h: NIST/SEMATECH e-Handbook of Statistical
// Methods, section 8.4.1.3, which gives shape 1.7208 and scale 606.5280.
func ExampleFitWeibull() {
	var lives []life.Observed
	for _, hours := range []float64{54, 187, 216, 240, 244, 335, 361, 373, 375, 386} {
		lives = append(lives, life.Observed{Used: hours})
	}
	for range 10 {
		lives = append(lives, life.Observed{Used: 500, Censored: true})
	}
	f, err := life.FitWeibull(lives)
	fmt.Printf("shape %.4f, scale %.1f, wears out: %v, %v\n", f.Shape, f.Scale, f.WearsOut(), err)
	// Output:
	// shape 1.7208, scale 606.5, wears out: false, <nil>
}
