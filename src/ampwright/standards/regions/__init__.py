"""What differs by region: limits, mains, words and paper, one data file for each region."""

from ampwright.standards.regions.read import REGIONS, region_rules
from ampwright.standards.regions.rules import RegionEntry, RegionName, RegionRules

__all__ = ["REGIONS", "RegionEntry", "RegionName", "RegionRules", "region_rules"]
