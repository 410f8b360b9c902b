#include "models/house/house_sections.hpp"

#include "models/hot_water/cold_main.hpp"
#include "models/hot_water/draw_kinds.hpp"
#include "models/hot_water/hot_water_sections.hpp"
#include "models/house/between.hpp"
#include "models/house/piping_sections.hpp"
#include "models/house/sections.hpp"
#include "models/house/weather_sections.hpp"
#include "sim/component/batch_of.hpp"

namespace steadyfire {

Catalog house_sections() {
  static Kind const sections[]{
      section<Opening>(),
      section<SiteSection>(),
      section<FluidSection>(),
      section<NearBoilerSection>(),
      section<HeadersSection>(),
      section<ZoneSection>(),
      section<ControlsSection>(),
      section<RunSection>(),
      section<JointSection>(),
      section<BetweenSection>(),
      section<HotWaterSection>(),
      section<TapSection>(),
      section<ConstantInlet>(),
      section<SeasonalInlet>(),
      section<InletByAir>(),
      section<RecirculationEntry>(),
      section<StorageEntry>(),
      section<ProfileDraws>(),
      section<PatternDraws>(),
      section<FamilyDraws>(),
      section<ListedDraws>(),
      section<SteadyWeather>(),
      section<DailyWave>(),
      section<NormalsWeather>(),
      section<TypicalYearFile>(),
      section<HourlyFile>(),
  };
  return sections;
}

}  // namespace steadyfire
