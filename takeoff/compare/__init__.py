"""What a job would take in other gauges, materials, sheet sizes or at other prices."""
