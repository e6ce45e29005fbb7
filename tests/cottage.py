"""What somebody would answer who has never seen the program and owns a cottage, by the names of questions."""

from __future__ import annotations

from typing import Final

COTTAGE: Final = {
    "title": "Cottage, repointing", "reference": "C-1", "issue_date": "2027-02-01", "place": "Sample Lane",
    "specifier": "A. Sample", "tender_return_date": "2027-03-05", "tender_return_to": "by e-mail",
    "start_date": "2027-05-10", "finish_date": "2027-07-30", "early_frost": "20 October",
    "late_frost": "1 May", "protection": "none",
    "lived_in": "yes", "public_near": "no", "water_near": "no", "mixing_place": "open-yard", "asbestos_survey": "clear",
    "services_hidden": "none seen", "masonry": "brick", "hardness": "soft", "joint_width_mm": "8 - 12 (10)",
    "exposure": "moderate", "position": "wall", "access": "ground", "face_area_m2": "24", "treated_per_cent": "30 - 40",
    "decay_causes": "age", "wall_wet": "dry", "leaning": "no", "quantity_sure": "measured",
    "joint_finish": "brushed-flush",
    "joint_depth_lost_mm": "10 - 20", "plaster_surface": "smooth", "consent": "not-needed", "causes_cured": "done",
    "salts": "none", "old_mortar": "lime", "existing_mortar": "lime", "overhead": "no", "site_water": "mains",
}  # fmt: skip
