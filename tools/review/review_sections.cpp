#include "tools/review/review_sections.hpp"

#include "models/gas/gas_sections.hpp"
#include "models/venting/vent_sections.hpp"
#include "sim/component/batch_of.hpp"
#include "tools/review/materials_sections.hpp"
#include "tools/review/size_sections.hpp"
#include "tools/review/start_up_sections.hpp"
#include "tools/review/water_sections.hpp"
#include "tools/review/wiring_sections.hpp"

namespace steadyfire {

Catalog review_sections() {
  static Kind const sections[]{
      section<SizeSection>(),
      section<CandidateSection>(),
      section<GasSection>(),
      section<GasPipeSection>(),
      section<GasApplianceSection>(),
      section<VentSection>(),
      section<VentRun>(),
      section<SafetySection>(),
      section<ColdRunSection>(),
      section<BufferSection>(),
      section<BoardSection>(),
      section<OutputSection>(),
      section<MaterialsSection>(),
      section<StartUpSection>(),
  };
  return sections;
}

}  // namespace steadyfire
