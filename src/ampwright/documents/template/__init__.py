"""Templates at full size for drilling and cutting."""
